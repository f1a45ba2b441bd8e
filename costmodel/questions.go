package costmodel

import (
	"math"

	"piececost/costmodel/table"
)

// A QuestionKind is a word of the column Study.
type QuestionKind string

// The kinds of studies that the sheet Studies may ask for.
const (
	AskCrossover   QuestionKind = "cross-over"
	AskStability   QuestionKind = "cross-over stability"
	AskCompare     QuestionKind = "scenario comparison"
	AskSensitivity QuestionKind = "sensitivity"
	AskTable       QuestionKind = "two-way table"
	AskMap         QuestionKind = "least-cost map"
	AskSolve       QuestionKind = "break-even values"
	AskParity      QuestionKind = "parity"
	AskCombine     QuestionKind = "least-cost combination"
	AskTrial       QuestionKind = "trial matrix"
)

// A Question is a row of the sheet Studies: a study that a run makes and writes into a sheet of its own.
type Question struct {
	Kind      QuestionKind
	Scenarios []*Scenario // in question; none named for all of them
	Against   *Scenario   // that they are held against; nil for none
	Volume    float64     // 1/yr; 0 for each scenario's own
	Target    float64     // piece cost that is wanted, model currency; NaN for none
	MassLimit float64     // highest net mass of a product, kg; NaN for none
	First     AskedInput  // input to solve for or across, or the volumes of cross-overs
	Second    AskedInput  // input upward of a map, down a table
	Trial     AskedTrial  // the part of a trial matrix
	Place     table.Place
}

// An AskedInput is an input with the values to look at.
type AskedInput struct {
	Input    *Input  // nil where the row names none
	From, To float64 // in the unit of the input's cells, 1/yr where they are volumes; NaN where the row gives none
	Points   int     // 0 where the row gives none
}

// An AskedTrial is what a trial matrix tries.
type AskedTrial struct {
	Part      string    // key
	Grades    []string  // keys of the sheet Materials; none for all of the form of the base's grade
	Gauges    []float64 // m; none for some around the base
	BaseGrade string    // "" for that of the part
	BaseGauge float64   // m; NaN for that of the part
}

// NewQuestion makes a question that leaves everything open.
func NewQuestion() *Question {
	open := AskedInput{From: math.NaN(), To: math.NaN()}
	return &Question{Target: math.NaN(), MassLimit: math.NaN(), First: open, Second: open, Trial: AskedTrial{BaseGauge: math.NaN()}}
}

// questionColumns says which columns a kind must have filled and which it may, beside those it must.
type questionColumns struct {
	must, may []string
}

// questionKinds lists the kinds in the order in which they are said.
var questionKinds = []struct {
	kind QuestionKind
	questionColumns
}{
	{AskCrossover, questionColumns{[]string{"from", "to"}, nil}},
	{AskStability, questionColumns{nil, []string{"scenario", "against", "from", "to"}}},
	{AskCompare, questionColumns{[]string{"against"}, nil}},
	{AskSensitivity, questionColumns{[]string{"scenario"}, []string{"against", "annual_volume"}}},
	{AskTable, questionColumns{[]string{"scenario", "input", "second_input"}, []string{"against", "annual_volume", "from", "to", "points", "second_from",
		"second_to", "second_points"}}},
	{AskMap, questionColumns{[]string{"input", "second_input"}, []string{"scenario", "annual_volume", "from", "to", "points", "second_from", "second_to",
		"second_points"}}},
	{AskSolve, questionColumns{[]string{"scenario"}, []string{"against", "target", "input", "from", "to", "annual_volume"}}},
	{AskParity, questionColumns{[]string{"scenario", "against"}, []string{"input", "from", "to", "annual_volume"}}},
	{AskCombine, questionColumns{nil, []string{"scenario", "annual_volume", "mass_limit"}}},
	{AskTrial, questionColumns{[]string{"scenario", "part"}, []string{"grades", "gauges", "base_grade", "base_gauge", "annual_volume"}}},
}

// QuestionKinds lists the words of the column Study.
func QuestionKinds() []string {
	var out []string
	for _, k := range questionKinds {
		out = append(out, string(k.kind))
	}
	return out
}

// Asked lists the questions of the given kinds, in sheet order.
func (m *Model) Asked(kinds ...QuestionKind) []*Question {
	var out []*Question
	for _, q := range m.questions {
		for _, k := range kinds {
			if q.Kind == k {
				out = append(out, q)
			}
		}
	}
	return out
}

package costmodel

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// questionReader reads the sheet Studies.
type questionReader struct {
	model  *Model
	table  *table.Table
	once   map[QuestionKind]table.Place // where a kind stands that is answered once
	gauges map[string]units.Unit        // of the columns Gauges and Base gauge, mm where the heading says none
	own    map[string]foundInput        // what the columns Target, Annual volume and Mass limit are read as, in their units
}

// questionHeadings are the columns of the sheet.
var questionHeadings = table.LayoutOf("Studies").Columns

// readQuestions reads the sheet Studies into the model. No cost rests on it, so what is wrong there is a warning: the study
// is left out, a scenario may be renamed.
func (m *Model) readQuestions() {
	t := m.Case.Table("Studies")
	if t == nil || len(t.Rows) == 0 {
		return
	}
	r := &questionReader{model: m, table: t, once: map[QuestionKind]table.Place{}, gauges: map[string]units.Unit{"gauges": m.lengthUnit(),
		"base_gauge": m.lengthUnit()}}
	ok := false
	r.softened("", func() { ok = r.headings() })
	if !ok {
		return
	}
	for _, row := range t.Rows {
		r.softened("the study is left out", func() {
			if q := r.row(row); q != nil {
				m.questions = append(m.questions, q)
			}
		})
	}
}

// softened makes warnings of what is found, and says what follows from it.
func (r *questionReader) softened(follows string, find func()) {
	first := len(r.model.Diagnostics)
	find()
	for i := range r.model.Diagnostics[first:] {
		d := &r.model.Diagnostics[first+i]
		d.Severity = table.Warning
		if d.Help != "" && follows != "" {
			d.Help += "; "
		}
		d.Help += follows
	}
}

// headings checks the headings: one that is nearly a column's name would silently be ignored.
func (r *questionReader) headings() bool {
	m, have := r.model, map[string]bool{}
	r.own = map[string]foundInput{}
	for name, column := range map[string]string{"target": "Piece cost", "annual_volume": "Annual volume", "mass_limit": "Net mass"} {
		r.own[name], _ = m.findInput(Input{Sheet: "Scenarios", Column: column})
	}
	for _, c := range r.table.Columns {
		name, unit, bracket := table.SplitHeading(c.Heading)
		have[name] = true
		switch {
		case bracket && (name == "gauges" || name == "base_gauge"):
			r.gauges[name] = m.gaugeUnit(c, unit)
		case r.own[name].scope != nil && bracket:
			f := r.own[name]
			q := f.scope.Quantities[f.quantity]
			f.unit = m.columnUnit(q, c.Place, fmt.Sprintf("heading %q", c.Heading), unit, true,
				fmt.Sprintf("write %s [%s]", table.Label(name), m.ShownUnit(q.Unit)))
			r.own[name] = f
		case name == "" || contains(questionHeadings, name) || table.IsProvenance(name):
		default:
			if near := formula.Nearest(name, questionHeadings); near != "" {
				m.Diagnostics.Add("heading", c.Place, fmt.Sprintf("heading %q is no column of this sheet", c.Heading), "did you mean "+
					table.Label(near)+"? If the column is your own, give it a name less alike")
			}
		}
	}
	if !have["study"] {
		m.Diagnostics.Add("heading", r.table.Place, `the sheet has no column "Study"`, "its columns are "+columnList(questionHeadings))
	}
	return have["study"]
}

func columnList(names []string) string {
	var out []string
	for _, n := range names {
		out = append(out, table.Label(n))
	}
	return strings.Join(out, ", ")
}

// row reads one question; nil where the row is empty or has a fault.
func (r *questionReader) row(row table.Row) *Question {
	if r.empty(row) {
		return nil
	}
	m := r.model
	before := m.Diagnostics.Count(table.Error)
	q := NewQuestion()
	q.Place = r.table.ValueAt(row, "study").Place
	var columns questionColumns
	if columns = r.kind(q, row); q.Kind == "" || !r.filled(q, columns, row) {
		return nil
	}
	r.scenarios(q, row)
	q.Volume = r.volumeAt(row, "annual_volume")
	q.Target = r.limit(row, "target")
	q.MassLimit = r.limit(row, "mass_limit")
	q.First = r.asked(row, "input", "from", "to", "points", q.Kind == AskCrossover || q.Kind == AskStability)
	q.Trial = r.trial(row)
	q.Second = r.asked(row, "second_input", "second_from", "second_to", "second_points", false)
	if m.Diagnostics.Count(table.Error) == before {
		r.fits(q, row)
	}
	if m.Diagnostics.Count(table.Error) > before {
		return nil
	}
	return q
}

// empty tells whether none of the sheet's own columns has anything in the row.
func (r *questionReader) empty(row table.Row) bool {
	for _, name := range questionHeadings {
		if r.table.ValueAt(row, name).Kind != table.Empty {
			return false
		}
	}
	return true
}

// kind reads the column Study.
func (r *questionReader) kind(q *Question, row table.Row) questionColumns {
	text := strings.ToLower(r.table.TextAt(row, "study"))
	for _, k := range questionKinds {
		if text == string(k.kind) {
			q.Kind = k.kind
			return k.questionColumns
		}
	}
	names := QuestionKinds()
	summary := fmt.Sprintf("there is no study %q", r.table.TextAt(row, "study"))
	if text == "" {
		summary = "the row names no study"
	}
	r.model.Diagnostics.Add("study", q.Place, summary, nearestOr(text, names, "write one of "+strings.Join(names, ", ")))
	return questionColumns{}
}

// filled reports cells that the study needs and those that would say nothing.
func (r *questionReader) filled(q *Question, columns questionColumns, row table.Row) bool {
	ok := true
	for _, name := range questionHeadings[1:] {
		v := r.table.ValueAt(row, name)
		switch must := contains(columns.must, name); {
		case must && v.Kind == table.Empty:
			if v.Place.Col == 1 {
				v.Place = q.Place
			}
			r.model.Diagnostics.Add("study", v.Place, fmt.Sprintf("%s has no %s", q.Kind, table.Label(name)), "fill the column "+table.Label(name))
			ok = false
		case !must && v.Kind != table.Empty && !contains(columns.may, name):
			r.model.Diagnostics.Add("study", v.Place, fmt.Sprintf("%s says nothing for %s", table.Label(name), q.Kind), "clear the cell")
			ok = false
		}
	}
	return ok
}

// scenarios reads the columns Scenario and Against.
func (r *questionReader) scenarios(q *Question, row table.Row) {
	if text := r.table.TextAt(row, "scenario"); text != "" {
		place := r.table.ValueAt(row, "scenario").Place
		if s := r.model.scenarioNamed(text); s != nil {
			q.Scenarios = []*Scenario{s}
		} else if q.Kind != AskMap {
			r.noScenario(text, place)
		} else {
			for _, name := range strings.Split(text, ",") {
				if s := r.model.scenarioNamed(strings.TrimSpace(name)); s != nil {
					q.Scenarios = append(q.Scenarios, s)
				} else {
					r.noScenario(strings.TrimSpace(name), place)
				}
			}
		}
	}
	if text := r.table.TextAt(row, "against"); text != "" {
		if q.Against = r.model.scenarioNamed(text); q.Against == nil {
			r.noScenario(text, r.table.ValueAt(row, "against").Place)
		}
	}
}

// scenarioNamed finds a scenario by its name, or by how it begins where that names one alone.
func (m *Model) scenarioNamed(text string) *Scenario {
	var found []*Scenario
	for _, s := range m.Scenarios {
		if strings.EqualFold(s.Name, text) {
			return s
		}
		if strings.HasPrefix(strings.ToLower(s.Name), strings.ToLower(text)) {
			found = append(found, s)
		}
	}
	if len(found) == 1 {
		return found[0]
	}
	return nil
}

func (r *questionReader) noScenario(text string, place table.Place) {
	var names []string
	for _, s := range r.model.Scenarios {
		names = append(names, s.Name)
	}
	r.model.Diagnostics.Add("study", place, fmt.Sprintf("%q names no scenario, or more than one", text),
		nearestOr(text, names, "write one of "+strings.Join(names, ", ")))
}

// asked reads an input with its values; of a cross-over the values are annual volumes without an input.
func (r *questionReader) asked(row table.Row, input, from, to, points string, volumes bool) AskedInput {
	a := NewQuestion().First
	f := r.own["annual_volume"]
	f.unit = f.scope.Quantities[f.quantity].Unit // From and To are volumes per year, whatever the column Annual volume is in
	if text := r.table.TextAt(row, input); text != "" {
		place := r.table.ValueAt(row, input).Place
		in, err := ParseInput(text)
		if err != nil {
			r.model.Diagnostics.Add("study", place, err.Error(), "")
			return a
		}
		found, d := r.model.findInput(in)
		if d != nil {
			r.model.Diagnostics.Add(d.Code, place, d.Summary, d.Help)
			return a
		}
		f, a.Input = found, &in
	}
	if a.Input == nil && !volumes {
		return a
	}
	lo, hi := r.table.ValueAt(row, from), r.table.ValueAt(row, to)
	if lo.Kind != table.Empty {
		a.From = f.unit.Shown(r.number(f, lo, table.Label(from)))
	}
	if hi.Kind != table.Empty {
		a.To = f.unit.Shown(r.number(f, hi, table.Label(to)))
	}
	a.Points = r.points(r.table.ValueAt(row, points), table.Label(points))
	return a
}

// number reads a number as a cell of the input would be read; the value is coherent.
func (r *questionReader) number(f foundInput, v table.Value, what string) float64 {
	def := r.model.readField(f.scope, f.quantity, v, f.unit, nil)
	switch {
	case def.failed:
		return math.NaN()
	case def.Kind != plan.Given:
		r.model.Diagnostics.Add("number", v.Place, what+" is an expression", "write a number, or a number with a unit")
		return math.NaN()
	}
	return def.Value
}

// limit reads a number of a column of the sheet's own, NaN where the cell is empty.
func (r *questionReader) limit(row table.Row, name string) float64 {
	if v := r.table.ValueAt(row, name); v.Kind != table.Empty {
		return r.number(r.own[name], v, table.Label(name))
	}
	return math.NaN()
}

func (r *questionReader) volumeAt(row table.Row, name string) float64 {
	v := r.table.ValueAt(row, name)
	if v.Kind == table.Empty {
		return 0
	}
	n := r.number(r.own[name], v, table.Label(name))
	if n <= 0 {
		r.model.Diagnostics.Add("volume", v.Place, "the annual volume must be a number above 0", "correct or clear the cell")
	}
	return n
}

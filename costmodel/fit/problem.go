package fit

import (
	"fmt"
	"math"
)

// A Weighting says whose squares are made least.
type Weighting int

const (
	// Relative is the error as a share of the observed value: a row has the weight 1/|observed|. A tool of 5,000 counts as much as
	// one of 500,000, which is what an estimator expects of prices. Such a fit lies a little low where the scatter is large: an
	// overestimate counts by the smaller observed value.
	Relative Weighting = iota
	// Absolute is the error in the unit of the observed value: dear rows rule the fit.
	Absolute
)

// String gives the weighting in words.
func (w Weighting) String() string {
	if w == Absolute {
		return "absolute error"
	}
	return "relative error"
}

// A Coefficient is one to be found, or held.
type Coefficient struct {
	Name        string
	NotNegative bool    // it must come out at 0 or above
	Held        bool    // it is not found but stays at Value
	Value       float64 // of a held one
}

// A Row is one observation.
type Row struct {
	Label    string    // what messages call it; the row's number where empty
	X        []float64 // one value for each coefficient, in the order of Problem.Coefficients
	Observed float64
	Weight   float64 // how much more its error counts than the others', before it is squared; 0 is taken for 1
}

// A Problem is m rows, n coefficients and how they are to be fitted.
type Problem struct {
	Of           string // what is observed, for messages: "tool price"; "value" where empty
	Coefficients []Coefficient
	Rows         []Row
	Weighting    Weighting
	Confidence   float64 // of the intervals, 0.5 to 0.999; 0 is taken for 0.95
}

// Bounds of what is taken for a number somebody meant; within them nothing here overflows.
const (
	mostMagnitude  = 1e30
	leastMagnitude = 1e-30
)

const usualConfidence = 0.95

func (p Problem) confidence() float64 {
	if p.Confidence == 0 {
		return usualConfidence
	}
	return p.Confidence
}

// of is what is observed, in words.
func (p Problem) of() string {
	if p.Of == "" {
		return "value"
	}
	return p.Of
}

// label is what messages call row i.
func (p Problem) label(i int) string {
	if l := p.Rows[i].Label; l != "" {
		return "row `" + l + "`"
	}
	return fmt.Sprintf("row %d", i+1)
}

// name is what messages call coefficient j.
func (p Problem) name(j int) string {
	if n := p.Coefficients[j].Name; n != "" {
		return "`" + n + "`"
	}
	return fmt.Sprintf("coefficient %d", j+1)
}

// names lists coefficients in words.
func (p Problem) names(js []int) string {
	words := make([]string, len(js))
	for k, j := range js {
		words[k] = p.name(j)
	}
	return inWords(words)
}

// found lists the coefficients that are not held.
func (p Problem) found() []int {
	var js []int
	for j, c := range p.Coefficients {
		if !c.Held {
			js = append(js, j)
		}
	}
	return js
}

// weight is what row i's error is multiplied by before it is squared.
func (p Problem) weight(i int) float64 {
	w := p.Rows[i].Weight
	if w == 0 {
		w = 1
	}
	if p.Weighting == Relative {
		w /= math.Abs(p.Rows[i].Observed)
	}
	return w
}

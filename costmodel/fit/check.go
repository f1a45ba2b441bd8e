package fit

import (
	"fmt"
	"math"
)

// check finds what can be refused before anything is computed.
func (p Problem) check() Refused {
	r := p.checkOptions()
	r = append(r, p.checkCoefficients()...)
	for i := range p.Rows {
		r = append(r, p.checkRow(i)...)
	}
	return append(r, p.checkRowCount()...)
}

func (p Problem) checkOptions() (r Refused) {
	if c := p.confidence(); !(c >= 0.5 && c <= 0.999) {
		r = append(r, Finding{Code: BadOption, What: fmt.Sprintf("a confidence of %g", c), Do: "give one from 0.5 to 0.999, as 0.95"})
	}
	if p.Weighting != Relative && p.Weighting != Absolute {
		r = append(r, Finding{Code: BadOption, What: fmt.Sprintf("weighting %d is unknown", p.Weighting), Do: "ask for relative or absolute errors"})
	}
	return r
}

func (p Problem) checkCoefficients() (r Refused) {
	first := map[string]int{}
	for j, c := range p.Coefficients {
		before, twice := first[c.Name]
		switch {
		case c.Name == "":
			r = append(r, Finding{Code: BadName, Coefficients: []int{j}, What: p.name(j) + " has no name", Do: "give it one"})
		case twice:
			r = append(r, Finding{Code: BadName, Coefficients: []int{before, j}, What: "two coefficients are called " + p.name(j),
				Do: "give them different names"})
		}
		first[c.Name] = j
		r = append(r, p.checkHeld(j)...)
	}
	if len(p.found()) == 0 {
		r = append(r, Finding{Code: NothingToFind, What: "no coefficient is to be found", Do: "let at least one of them be found instead of held"})
	}
	return r
}

func (p Problem) checkHeld(j int) Refused {
	c := p.Coefficients[j]
	f := Finding{Code: BadValue, Coefficients: []int{j}, What: fmt.Sprintf("%s is held at %g", p.name(j), c.Value), Do: ordinary}
	switch {
	case !c.Held:
		return nil
	case !usable(c.Value):
		return Refused{f}
	case c.NotNegative && c.Value < 0:
		f.What, f.Do = f.What+" and must not be negative", "hold it at 0 or above, or let it be negative"
		return Refused{f}
	}
	return nil
}

const ordinary = "give 0 or a number between 1e-30 and 1e30"

// usable tells whether a value can be computed with: 0, or of a magnitude that somebody may have meant.
func usable(x float64) bool {
	a := math.Abs(x)
	return a == 0 || a >= leastMagnitude && a <= mostMagnitude // false for NaN
}

func (p Problem) checkRow(i int) (r Refused) {
	row := p.Rows[i]
	bad := func(code Code, coefficients []int, what, do string) {
		r = append(r, Finding{Code: code, Coefficients: coefficients, Rows: []int{i}, What: p.label(i) + ": " + what, Do: do})
	}
	if len(row.X) != len(p.Coefficients) {
		bad(BadValue, nil, fmt.Sprintf("%s for %s", counted(len(row.X), "value"), counted(len(p.Coefficients), "coefficient")), "give one for each")
		return r
	}
	for j, x := range row.X {
		if !usable(x) {
			bad(BadValue, []int{j}, fmt.Sprintf("%g for %s", x, p.name(j)), ordinary)
		}
	}
	switch {
	case !usable(row.Observed):
		bad(BadValue, nil, fmt.Sprintf("a %s of %g", p.of(), row.Observed), ordinary)
	case row.Observed == 0 && p.Weighting == Relative:
		bad(NoRelativeError, nil, "a "+p.of()+" of 0 has no relative error", "leave the row out, or fit absolute errors")
	}
	if !usable(row.Weight) || row.Weight < 0 {
		bad(BadValue, nil, fmt.Sprintf("a weight of %g", row.Weight), "give one above 0, or leave the row out")
	}
	return r
}

// checkRowCount asks for one row more than coefficients: with as many the fit meets every row and tells nothing of its error.
func (p Problem) checkRowCount() Refused {
	n, m := len(p.found()), len(p.Rows)
	if n == 0 || m > n {
		return nil
	}
	missing := n + 1 - m
	return Refused{{Code: TooFewRows, Coefficients: p.found(),
		What: fmt.Sprintf("%s for %s to be found (%s)", counted(m, "row"), counted(n, "coefficient"), p.names(p.found())),
		Do: fmt.Sprintf("add at least %s, so that there is one more than coefficients and the error can be judged, or hold %s at a value",
			counted(missing, "row"), counted(missing, "coefficient"))}}
}

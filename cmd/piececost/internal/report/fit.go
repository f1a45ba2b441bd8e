package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel/fit"
	"piececost/costmodel/study"
)

// fitReport is fitted coefficients to be printed.
type fitReport struct {
	file, currency string
	kinds          []*study.ToolFit
	accepted       *Accepted
}

// Accepted says which fits were put into which workbook.
type Accepted struct {
	File, Sheet           string
	Kinds                 []string
	First, Last, Replaced int
}

// NewFit is the report of fits; accepted is nil where nothing was written.
func NewFit(file, currency string, kinds []*study.ToolFit, accepted *Accepted) *fitReport {
	return &fitReport{file, currency, kinds, accepted}
}

// Print prints a section for each kind of tool.
func (r *fitReport) Print(w io.Writer) {
	for i, k := range r.kinds {
		if i > 0 {
			fmt.Fprintln(w)
		}
		r.kind(w, k)
	}
	if a := r.accepted; a != nil {
		rows := fmt.Sprintf("rows %d to %d of the sheet %s are new", a.First, a.Last, a.Sheet)
		if a.First == a.Last {
			rows = fmt.Sprintf("row %d of the sheet %s is new", a.First, a.Sheet)
		}
		fmt.Fprintln(w)
		term.Wrap(w, "", "  ", fmt.Sprintf("%s: %s (%s); %s kept as replaced", a.File, rows, strings.Join(a.Kinds, ", "), term.Plural(a.Replaced, "value")))
	}
}

// pastWord is what the past rows of a fit are.
func pastWord(k *study.ToolFit) string {
	if k.Machine != "" {
		return "machine"
	}
	return "tool"
}

func (r *fitReport) kind(w io.Writer, k *study.ToolFit) {
	fmt.Fprintf(w, "%s: %s\n", k.Kind, term.Plural(len(k.Tools), "past "+pastWord(k)))
	if k.Fit == nil {
		for _, why := range k.Refused {
			term.Wrap(w, "  not fitted: ", "    ", why)
		}
		return
	}
	r.coefficients(w, k)
	fmt.Fprintln(w)
	r.tools(w, k)
	r.quality(w, k)
	for _, f := range k.Fit.Warnings {
		term.Wrap(w, "  warning: ", "    ", f.String())
	}
	if len(k.LeftOut) > 0 {
		var names []string
		for _, c := range k.LeftOut {
			names = append(names, c.Label)
		}
		term.Wrap(w, "  ", "    ", "left as it is, since no past "+pastWord(k)+" tells anything of it: "+strings.Join(names, ", "))
	}
}

// coefficients prints what is in force beside what was fitted.
func (r *fitReport) coefficients(w io.Writer, k *study.ToolFit) {
	t := &term.Table{}
	t.Add("Coefficient", "in force", "fitted", fmt.Sprintf("%.0f %% from", k.Fit.Confidence*100), "to", "")
	t.Line()
	for i, c := range k.Chosen {
		e := k.Fit.Coefficients[i]
		force := term.Figure(c.Value)
		if c.Placeholder {
			force += " *"
		} else {
			force += "  "
		}
		low, high := term.Figure(e.Low), term.Figure(e.High)
		if e.State != fit.Found {
			low, high = "", ""
		}
		t.Add(c.Label+" ["+c.Unit+"]", force, term.Figure(e.Value), low, high, coefficientState(e))
	}
	t.Print(w)
	for _, c := range k.Chosen {
		if c.Placeholder {
			fmt.Fprintln(w, "* placeholder of the library")
			break
		}
	}
}

func coefficientState(e fit.Estimate) string {
	switch {
	case e.Unreliable:
		return "unreliable"
	case e.State == fit.Found:
		return ""
	}
	return e.State.String()
}

// tools prints prices beside what the fit says, and what the others alone would say.
func (r *fitReport) tools(w io.Writer, k *study.ToolFit) {
	t := &term.Table{}
	t.Add(map[bool]string{true: "Machine", false: "Tool"}[k.Machine != ""], "price ["+r.currency+"]", "fitted", "residual", "", "by the others", "")
	t.Line()
	for i, row := range k.Fit.Rows {
		others, miss := "", ""
		if row.HasLeftOut {
			others, miss = term.Grouped(row.LeftOut, 0), percentOf(row.Miss, row.Observed)
		}
		t.Add(k.Tools[i].Name, term.Grouped(row.Observed, 0), term.Grouped(row.Fitted, 0), term.SignedOrZero(row.Residual, 0),
			percentOf(row.Residual, row.Observed), others, miss)
	}
	t.Print(w)
}

// percentOf is what a price is above what is said of it, as a share of the price.
func percentOf(part, whole float64) string {
	return term.SignedOrZero(part/math.Abs(whole)*100, 1) + " %"
}

func (r *fitReport) quality(w io.Writer, k *study.ToolFit) {
	q := k.Fit
	amount := func(v float64) string {
		if q.Weighting == fit.Relative {
			return term.Figure(math.Round(v*1e5)/1e3) + " %"
		}
		return term.Grouped(v, 0) + " " + r.currency
	}
	text := fmt.Sprintf("standard deviation of the residuals %s", amount(q.ResidualSD))
	if q.LeftOutRMS > 0 {
		text += fmt.Sprintf("; each %s predicted by the others: %s", pastWord(k), amount(q.LeftOutRMS))
	}
	if q.HasR2 {
		text += fmt.Sprintf("; R2 %.4f", q.R2)
	}
	term.Wrap(w, "  ", "    ", text+"; least "+q.Weighting.String())
}

// CSV prints a line for each past tool.
func (r *fitReport) CSV(w io.Writer) {
	t := newCSV(w, "kind", "coefficient", "tool", "unit", "in force", "price", "fitted", "low", "high", "by the others", "state")
	defer t.flush()
	none := math.NaN()
	for _, k := range r.kinds {
		if k.Fit == nil {
			t.row(k.Kind, "", "", "", none, none, none, none, none, none, "not fitted: "+strings.Join(k.Refused, "; "))
			continue
		}
		for i, c := range k.Chosen {
			e := k.Fit.Coefficients[i]
			low, high := e.Low, e.High
			if e.State != fit.Found {
				low, high = none, none
			}
			t.row(k.Kind, c.Label, "", c.Unit, c.Value, none, e.Value, low, high, none, csvState(e))
		}
		for i, row := range k.Fit.Rows {
			others := none
			if row.HasLeftOut {
				others = row.LeftOut
			}
			t.row(k.Kind, "", k.Tools[i].Name, r.currency, none, row.Observed, row.Fitted, none, none, others, "")
		}
	}
}

func csvState(e fit.Estimate) string {
	if e.Unreliable {
		return e.State.String() + ", unreliable"
	}
	return e.State.String()
}

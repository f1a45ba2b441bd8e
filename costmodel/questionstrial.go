package costmodel

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"piececost/costmodel/table"
)

// MostTried is how many cells a trial matrix may have.
const MostTried = 2000

// trial reads the columns of a trial matrix, which other studies leave empty.
func (r *questionReader) trial(row table.Row) AskedTrial {
	out := NewQuestion().Trial
	out.Part = r.named(row, "part", r.table.TextAt(row, "part"), "part", "Parts")
	for _, key := range listed(r.table.TextAt(row, "grades")) {
		out.Grades = append(out.Grades, r.named(row, "grades", key, "material", "Materials"))
		r.twice(row, "grades", contains(out.Grades[:len(out.Grades)-1], key), key)
	}
	out.BaseGrade = r.named(row, "base_grade", r.table.TextAt(row, "base_grade"), "material", "Materials")
	if v := r.table.ValueAt(row, "base_gauge"); v.Kind != table.Empty {
		out.BaseGauge = r.model.statedGauge("study", "Base gauge", r.gauges["base_gauge"], v)
	}
	out.Gauges = r.trialGauges(row)
	if len(out.Gauges)*max(1, len(out.Grades)) > MostTried {
		r.model.Diagnostics.Add("study", r.table.ValueAt(row, "gauges").Place, fmt.Sprintf("a trial has at most %d cells", MostTried),
			"name fewer grades or gauges")
	}
	return out
}

// named is a key of another sheet; one that is not there is reported.
func (r *questionReader) named(row table.Row, column, key, scope, sheet string) string {
	key = strings.TrimSpace(key)
	if d := r.model.referenceError(key, scope, scope, sheet); d != nil {
		r.model.Diagnostics.Add("reference", r.table.ValueAt(row, column).Place, d.Summary, d.Help)
	}
	return key
}

// decimalComma is a comma that may be a decimal mark.
var decimalComma = regexp.MustCompile(`[0-9],[0-9]`)

// trialGauges reads one gauge, or several with a semicolon between them, or with a comma and a space: a comma alone is a decimal mark to many.
func (r *questionReader) trialGauges(row table.Row) (out []float64) {
	v := r.table.ValueAt(row, "gauges")
	if v.Kind != table.Text {
		if v.Kind != table.Empty {
			return append(out, r.model.statedGauge("study", "Gauges", r.gauges["gauges"], v))
		}
		return nil
	}
	if decimalComma.MatchString(v.Text) {
		r.model.Diagnostics.Add("study", v.Place, fmt.Sprintf("Gauges %q: a comma between figures may be a decimal mark", table.Shortened(v.Text)),
			"write them with decimal points and semicolons: 0.7; 0.75; 0.9")
		return nil
	}
	for _, text := range listed(v.Text) {
		one := v
		one.Text = text
		g := r.model.statedGauge("study", "Gauges", r.gauges["gauges"], one)
		for _, other := range out {
			r.twice(row, "gauges", SameGauge(g, other), text)
		}
		if out = append(out, g); math.IsNaN(g) {
			return out // said, once
		}
	}
	return out
}

// twice reports an entry of a list that stands there twice.
func (r *questionReader) twice(row table.Row, column string, is bool, text string) {
	if is {
		r.model.Diagnostics.Add("study", r.table.ValueAt(row, column).Place, fmt.Sprintf("%s has %s twice", table.Label(column), text), "name each once")
	}
}

// listed cuts a list at semicolons and commas.
func listed(text string) (out []string) {
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == ',' }) {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

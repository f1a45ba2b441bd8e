package report

import (
	"fmt"
	"io"
	"strings"

	"piececost/cmd/piececost/internal/term"
)

// PrintElasticities prints what a percent of each input is worth.
func (s *Sensitivity) PrintElasticities(w io.Writer) {
	s.head(w)
	fmt.Fprintln(w, "Elasticity: effect of +1 % of each input, all else unchanged")
	fmt.Fprintln(w)
	t := &term.Table{}
	head := []string{"Input", "base value", s.currency()}
	if s.Measure.Against == nil {
		head = append(head, "%")
	}
	t.Add(append(head, "over 5 %")...)
	t.Line()
	for i := range s.Elasticities[:s.limit(len(s.Elasticities))] {
		t.Add(s.elasticityRow(i)...)
	}
	t.Print(w)
	term.Wrap(w, "", "", "Per good piece for +1 %, from steps of 0.1 % either way; where steps of 5 % say otherwise, theirs for 1 % stands beside: "+
		"integer quantities (capacity steps) make it uneven; - one side of the base value can't be, so the other one tells")
	s.printRest(w, len(s.Elasticities))
}

func (s *Sensitivity) elasticityRow(i int) []string {
	e := &s.Elasticities[i]
	row := []string{term.Cut(e.Input.Input.String(), 42), term.Figure(e.Input.Shown(e.Input.BaseValue)), term.Signed(e.PerPercent, 4)}
	if s.Measure.Against == nil {
		row = append(row, term.Signed(e.Value, 3))
	}
	wide := ""
	if e.Uneven {
		wide = term.Signed(e.Wide, 4)
	}
	if e.OneSided {
		wide = strings.TrimSpace(wide + " -")
	}
	return append(row, wide)
}

// ElasticityCSV prints a line for each input that is listed.
func (s *Sensitivity) ElasticityCSV(w io.Writer) {
	t := newCSV(w, "input", "unit", "base_value", "elasticity", "per_percent", "per_percent_over_five", "uneven", "one_sided")
	defer t.flush()
	for i := range s.Elasticities[:s.limit(len(s.Elasticities))] {
		e := &s.Elasticities[i]
		t.row(e.Input.Input.String(), unitOf(s.model(), &e.Input), e.Input.Shown(e.Input.BaseValue), e.Value, e.PerPercent, e.Wide, e.Uneven, e.OneSided)
	}
}

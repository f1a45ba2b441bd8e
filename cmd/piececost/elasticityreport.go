package main

import (
	"fmt"
	"io"
	"strings"
)

// printElasticities prints what a percent of each input is worth.
func (s *sensitivityReport) printElasticities(w io.Writer) {
	s.head(w)
	fmt.Fprintln(w, "What 1 % more of each input is worth, all else as it stands")
	fmt.Fprintln(w)
	t := &table{}
	head := []string{"Input", "today", s.currency()}
	if s.measure.Against == nil {
		head = append(head, "%")
	}
	t.add(append(head, "over 5 %")...)
	t.line()
	for i := range s.elasticities[:s.limit(len(s.elasticities))] {
		t.add(s.elasticityRow(i)...)
	}
	t.print(w)
	fmt.Fprintln(w, "A good piece for 1 % more, from steps of 0.1 % either way; where steps of 5 %")
	fmt.Fprintln(w, "say otherwise, theirs for 1 % stands beside: whole counts make it uneven;")
	fmt.Fprintln(w, "- one side of today's value can't be, so the other one tells")
	s.printRest(w, len(s.elasticities))
}

func (s *sensitivityReport) elasticityRow(i int) []string {
	e := &s.elasticities[i]
	row := []string{cut(e.Input.Input.String(), 42), figure(e.Input.Shown(e.Input.Today)), signed(e.PerPercent, 4)}
	if s.measure.Against == nil {
		row = append(row, signed(e.Value, 3))
	}
	wide := ""
	if e.Uneven {
		wide = signed(e.Wide, 4)
	}
	if e.OneSided {
		wide = strings.TrimSpace(wide + " -")
	}
	return append(row, wide)
}

func (s *sensitivityReport) elasticityCSV(w io.Writer) {
	fmt.Fprintln(w, "input,unit,today,elasticity,per_percent,per_percent_over_five,uneven,one_sided")
	for i := range s.elasticities[:s.limit(len(s.elasticities))] {
		e := &s.elasticities[i]
		fmt.Fprintln(w, strings.Join([]string{csvText(e.Input.Input.String()), csvText(unitOf(s.model(), &e.Input)), csvNumber(e.Input.Shown(e.Input.Today)), csvNumber(e.Value), csvNumber(e.PerPercent), csvNumber(e.Wide), fmt.Sprint(e.Uneven), fmt.Sprint(e.OneSided)}, ","))
	}
}

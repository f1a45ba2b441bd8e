package handedits

import (
	"strings"

	"piececost/costmodel/table"
)

// keepRemarksOf takes the remarks of another sheet over, by its headings.
func (s *overrideSheet) keepRemarksOf(old *overrideSheet) {
	for _, r := range old.table.Rows {
		state := old.cells[r.Number][old.column("State")].value.Text
		if state != remarkState && state != labelState {
			continue
		}
		row := s.last + 1
		for _, heading := range table.OverrideColumns {
			if cell, ok := old.cells[r.Number][old.column(heading)]; ok {
				s.put(row, s.column(heading), cell)
			}
		}
		s.tableRow(row)
	}
}

// keep writes a remark as a row below the others.
func (s *overrideSheet) keep(r *Remark) {
	row := s.last + 1
	note, state := r.Why, remarkState
	if r.Label {
		state = labelState
		if note = "typed over a label of the sheet"; r.Was != "" {
			note = "typed over the label " + r.Was
		}
	}
	if r.cell.Formula != "" {
		note += "; typed: " + r.Content
	}
	rowLabel := r.Row
	if r.Label && rowLabel == "" {
		rowLabel = r.Was
	}
	words := map[string]string{"Scenario": r.scenario, "Sheet": r.Place.Sheet, "Row": rowLabel, "Column": r.Column, "State": state,
		"Edited cell": cellName(r.Place.Sheet, r.Place.Row, r.Place.Col), "Note": strings.TrimSpace(note)}
	for heading, text := range words {
		if text != "" {
			s.set(row, heading, table.Value{Kind: table.Text, Text: text})
		}
	}
	if col := s.column("Value"); col > 0 {
		s.put(row, col, overrideCell{value: r.value, date: r.value.Kind == table.Date && r.value.Number != 0})
	}
	s.last = max(s.last, row)
	s.tableRow(row)
}

// The states of rows of Overrides that keep a remark; they set nothing.
const (
	remarkState = "remark"
	labelState  = "label"
)

package handedits

import (
	"strings"

	"piececost/costmodel"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// The states of rows of Overrides that keep a remark; they set nothing.
const (
	remarkState = "remark"
	labelState  = "label"
)

func quoteSheet(name string) string { return live.QuoteSheet(name) }

// Remarks are what a person typed into result sheets beside the results, as the last Write found and placed it.
func (w *Handwork) Remarks() []*Remark { return w.remarks }

// FindRemarks reads the remarks of the workbook; labels typed over are left out where edits are discarded.
func (w *Handwork) FindRemarks(m *costmodel.Model) (*Record, error) {
	if w.finder == nil {
		if _, err := w.Find(m); err != nil || w.finder == nil {
			return nil, err
		}
	}
	w.remarks = nil
	for _, r := range w.finder.remarks {
		if !r.Label || !w.discarded {
			w.remarks = append(w.remarks, r)
		}
	}
	return w.finder.record, nil
}

// KeepRemarks places the remarks in the sheets made, but for those that are in Overrides already; it returns those that are
// to go there too.
func (w *Handwork) KeepRemarks(r *Record, b *sheet.Book) (more []*Remark) {
	var open []*Remark
	for _, m := range w.remarks {
		if m.Why == "" {
			m.Now = costmodel.Place{}
			open = append(open, m)
		}
	}
	if len(open) == 0 {
		return nil
	}
	newRelayout(r, b.Sealed).place(open)
	for _, m := range open {
		if m.Why != "" {
			m.Was = b.WordsOf[m.print]
			more = append(more, m)
		}
	}
	return more
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
	words := map[string]string{"Scenario": r.scenario, "Sheet": r.Place.Sheet, "Row": rowLabel, "Column": r.Column, "State": state, "Edited cell": cellName(r.Place.Sheet, r.Place.Row, r.Place.Col), "Note": strings.TrimSpace(note)}
	for heading, text := range words {
		if text != "" {
			s.set(row, heading, costmodel.Value{Kind: costmodel.Text, Text: text})
		}
	}
	if col := s.column("Value"); col > 0 {
		s.put(row, col, overrideCell{value: r.value, date: r.value.Kind == costmodel.Date && r.value.Number != 0})
	}
	s.last = max(s.last, row)
	s.tableRow(row)
}

// keepRemarksOf takes the remarks of another sheet over, by its headings.
func (s *overrideSheet) keepRemarksOf(old *overrideSheet) {
	for _, r := range old.table.Rows {
		state := old.cells[r.Number][old.column("State")].value.Text
		if state != remarkState && state != labelState {
			continue
		}
		row := s.last + 1
		for _, heading := range costmodel.OverrideColumns {
			if cell, ok := old.cells[r.Number][old.column(heading)]; ok {
				s.put(row, s.column(heading), cell)
			}
		}
		s.tableRow(row)
	}
}

// CarryRemarks puts remarks into the sheet Overrides, and that into the case, so that the list of inputs is as the next
// run reads it.
func (w *Handwork) CarryRemarks(c *costmodel.Case, remarks []*Remark) (err error) {
	if len(remarks) == 0 {
		return nil
	}
	if w.overrides == nil {
		if w.overrides, err = w.overrideSheet(c); err != nil {
			return err
		}
	}
	for _, r := range remarks {
		w.overrides.keep(r)
	}
	c.Tables = replaceTable(c.Tables, w.overrides.table)
	return nil
}

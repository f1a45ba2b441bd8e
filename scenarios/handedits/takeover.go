package handedits

import (
	"fmt"
	"maps"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/reading"
	"piececost/scenarios/sheet"
)

// TakeOver finds the cells of the result sheets that were changed by hand since they were written and puts each into the
// table Overrides of the case, and so into the results; Write then writes that sheet. It returns the edits, those too
// that can't be taken over.
func (w *Handwork) TakeOver(c *table.Case, lib *costmodel.Library) ([]Edit, error) {
	edits, err := w.Find(costmodel.New(c, lib))
	if err != nil || len(edits) == 0 {
		return nil, err
	}
	for range 2 { // once more without those that the model refuses
		over, err := w.overrideSheet(c)
		if err != nil {
			return nil, err
		}
		first := over.last + 1
		for i := range edits {
			over.add(&edits[i])
		}
		with := *c
		with.Tables = replaceTable(c.Tables, over.table)
		if refuse(costmodel.New(&with, lib), edits, first) {
			continue
		}
		w.overrides = over
		c.Tables = with.Tables
		return edits, nil
	}
	return nil, fmt.Errorf("the edits of the result sheets can't be taken over; run with --discard-edits to leave them out")
}

// refuse marks the edits whose rows the model has errors for.
func refuse(m *costmodel.Model, edits []Edit, first int) bool {
	any := false
	for _, d := range m.Diagnostics {
		if i := d.Place.Row - first; d.Severity == table.Error && d.Place.Sheet == OverridesSheet && i >= 0 && i < len(edits) && edits[i].Dropped == "" {
			edits[i].Dropped = d.Summary
			if d.Help != "" {
				edits[i].Dropped += "; " + d.Help
			}
			any = true
		}
	}
	return any
}

// DiscardEdits leaves hand edits and earlier overrides out of the case and empties the sheet Overrides where there is one,
// but for the remarks kept in it. Remarks beside the results stay.
func (w *Handwork) DiscardEdits(c *table.Case) error {
	w.discarded = true
	if c.Table(OverridesSheet) == nil {
		return nil
	}
	old, err := w.overrideSheet(c)
	if err != nil {
		return err
	}
	w.overrides = newOverrideSheet(c.File)
	w.overrides.keepRemarksOf(old)
	c.Tables = replaceTable(c.Tables, w.overrides.table)
	return nil
}

// add writes an edit as a row below the others; an override of the same cell that is in force is replaced by it.
func (s *overrideSheet) add(e *Edit) {
	row := s.last + 1
	state := table.InForce
	if e.Dropped != "" {
		state = notTaken
	} else {
		s.supersede(e, row)
	}
	note := e.Note
	if e.Dropped != "" {
		note = e.Dropped
	}
	if e.Value.Kind == table.Text || strings.HasPrefix(e.Content, "=") {
		note = strings.TrimPrefix(note+"; typed: "+e.Content, "; ")
	}
	for _, w := range [][2]string{{"Scenario", e.Scenario}, {"Sheet", e.Sheet}, {"Row", rowWord(e.Sheet, e.Row)}, {"Column", e.Column},
		{"State", state}, {"Edited cell", cellName(e.Place.Sheet, e.Place.Row, e.Place.Col)}, {"Note", note}} {
		if heading, text := w[0], w[1]; text != "" {
			s.set(row, heading, table.Value{Kind: table.Text, Text: text})
		}
	}
	value := e.Value
	if e.Dropped != "" && value.Kind == table.Empty {
		value = typed(e.Content)
	}
	s.set(row, "Value", value)
	s.tableRow(row)
}

// typed is a content as a value.
func typed(content string) table.Value {
	if v, err := strconv.ParseFloat(content, 64); err == nil {
		return table.Value{Kind: table.Number, Number: v}
	}
	return table.Value{Kind: table.Text, Text: strings.TrimPrefix(content, "=")}
}

// rowWord is the word of the column Row for a key: a fact of the case is named by its sheet and quantity alone.
func rowWord(sheet, key string) string {
	if strings.EqualFold(strings.TrimSpace(sheet), "Case") {
		return ""
	}
	return key
}

// supersede switches off the rows that set the same quantity of the same row in the same scenario.
func (s *overrideSheet) supersede(e *Edit, by int) {
	text := func(row int, heading string) string { return s.cells[row][s.column(heading)].value.Text }
	name := func(heading string) string { n, _, _ := table.SplitHeading(heading); return n }
	for i := range s.table.Rows {
		n := s.table.Rows[i].Number
		state := text(n, "State")
		if state != "" && !strings.EqualFold(state, table.InForce) {
			continue
		}
		if text(n, "Scenario") == e.Scenario && strings.EqualFold(text(n, "Sheet"), e.Sheet) &&
			rowWord(e.Sheet, text(n, "Row")) == rowWord(e.Sheet, e.Row) && name(text(n, "Column")) == name(e.Column) {
			s.set(n, "State", table.Value{Kind: table.Text, Text: fmt.Sprintf("replaced by row %d", by)})
			for j, c := range s.table.Columns {
				if c.Place.Col == s.column("State") {
					cells := append([]table.Value(nil), s.table.Rows[i].Cells...)
					cells[j].Kind, cells[j].Text = table.Text, s.cells[n][c.Place.Col].value.Text
					s.table.Rows[i].Cells = cells
				}
			}
		}
	}
}

// Overrides writes the sheet Overrides; nil where it stays as it is.
func (w *Handwork) Overrides() func(*sheet.Book) error {
	if w.overrides == nil {
		return nil
	}
	return w.overrides.write
}

// write writes the sheet.
func (s *overrideSheet) write(b *sheet.Book) error {
	p := b.BlankPage(OverridesSheet)
	head := s.table.Columns[0].Place.Row
	rows := make([]int, 0, len(s.cells))
	for n := range s.cells {
		rows = append(rows, n)
	}
	sort.Ints(rows)
	for _, n := range rows {
		for _, col := range slices.Sorted(maps.Keys(s.cells[n])) {
			c := s.cells[n][col]
			p.Put(n, col, c.cell(), overrideLook(n, head, n == 1 && col == 1, col == s.column("Note"), c))
		}
	}
	for i, w := range []float64{18, 16, 18, 28, 16, 13, 28, 12, 10, 50} {
		p.Widths[i+1] = w
	}
	p.Unsealed, p.Landscape, p.Titles, p.Freeze = true, true, head, fmt.Sprintf("A%d", head+1)
	return p.Flush()
}

// cell is the content for the library.
func (c overrideCell) cell() excelize.Cell {
	out := excelize.Cell{Formula: c.formula}
	switch c.value.Kind {
	case table.Number, table.Date:
		out.Value = c.value.Number
	case table.Flag:
		out.Value = c.value.Number != 0
	case table.Text:
		out.Value = c.value.Text
	}
	return out
}

func overrideLook(row, head int, title, note bool, c overrideCell) sheet.Look {
	switch {
	case title:
		return sheet.Look{Kind: "title"}
	case row < head:
		return sheet.Look{Kind: "faint"}
	case row == head:
		return sheet.Look{Kind: "heading"}
	case c.date:
		return sheet.Look{Kind: "input", Format: "yyyy-mm-dd"}
	case c.value.Percent:
		return sheet.Look{Kind: "input", Format: "0.00%"}
	}
	return sheet.Look{Kind: "input", Wrap: note}
}

// overrideSheet reads the sheet as it is, every cell of it, or makes one.
func (w *Handwork) overrideSheet(c *table.Case) (*overrideSheet, error) {
	t := c.Table(OverridesSheet)
	if t == nil || len(t.Columns) == 0 {
		return newOverrideSheet(c.File), nil
	}
	copied := *t
	copied.Rows = append([]table.Row(nil), t.Rows...)
	s := &overrideSheet{table: &copied, cells: map[int]map[int]overrideCell{}}
	b := reading.NewBook(w.pack)
	for i := range w.pack.Sheets {
		if !strings.EqualFold(w.pack.Sheets[i].Name, OverridesSheet) {
			continue
		}
		g, err := b.Grid(&w.pack.Sheets[i])
		if err != nil {
			return nil, err
		}
		for _, n := range g.Rows {
			for j := range g.Cells[n] {
				s.carry(b, &g.Cells[n][j])
			}
		}
	}
	return s, nil
}

package handedits

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/sheet"
)

// notes takes the notes attached to cells of a result sheet for remarks: the program writes none there.
func (k *sheetCheck) notes(s *ooxml.Sheet) error {
	all, err := k.finder.book.Pack.Comments(s)
	if err != nil {
		return err
	}
	k.attached = map[int][]ooxml.Comment{}
	for _, c := range all {
		k.attached[c.Row] = append(k.attached[c.Row], c)
	}
	return nil
}

// noteRow notes the attached notes of a row with its label.
func (k *sheetCheck) noteRow(n int, row rowCells) {
	for _, c := range k.attached[n] {
		col, known := k.was.cols.exact(c.Col)
		if !known {
			col = 0
		}
		cell := ooxml.Cell{Row: c.Row, Col: c.Col, Type: ooxml.Text, Value: c.Text, HasValue: true}
		r := &Remark{Place: table.Place{Sheet: k.name, Row: n, Col: c.Col}, Content: c.Text, Note: true, scenario: k.scenario, cell: cell,
			author: c.Author, was: k.was, col: col}
		k.note(row, r)
	}
	delete(k.attached, n)
}

// NotesToKeep are the notes that stay, by sheet, for the library.
func (w *Handwork) NotesToKeep() map[string][]excelize.Comment {
	var out map[string][]excelize.Comment
	for _, r := range w.remarks {
		if r.Note && r.Now.Row > 0 {
			if out == nil {
				out = map[string][]excelize.Comment{}
			}
			lines := 1 + strings.Count(r.Content, "\n") + len([]rune(r.Content))/40
			out[r.Now.Sheet] = append(out[r.Now.Sheet], excelize.Comment{Cell: r.Now.Cell(), Author: r.author, Text: r.Content, Width: 260,
				Height: uint(30 + 17*min(lines, 20))})
		}
	}
	return out
}

// Drawings says, a line each, on which result sheets something lies that the last run did not write: pictures and shapes,
// and more charts than it wrote. They can't be carried into the sheets written anew.
func (w *Handwork) Drawings() []string { return w.drawings }

// FindDrawings looks for what lies on the result sheets beside what the last run wrote.
func (w *Handwork) FindDrawings(r *Record) error {
	w.drawings = nil
	for i := range w.pack.Sheets {
		s := &w.pack.Sheets[i]
		if r == nil || !r.words || r.sheets[s.Name] == nil {
			continue
		}
		there, err := w.pack.Drawn(s)
		if err != nil {
			return err
		}
		var what []string
		for _, n := range []struct {
			count int
			word  string
		}{{there.Pictures, "picture"}, {there.Shapes, "shape"}, {there.Charts - r.sheets[s.Name].charts, "chart"}} {
			if n.count > 0 {
				what = append(what, sheet.Counted(n.count, n.word))
			}
		}
		if len(what) > 0 {
			w.drawings = append(w.drawings, fmt.Sprintf("%s: %s", s.Name, strings.Join(what, ", ")))
		}
	}
	return nil
}

func (k *sheetCheck) note(row rowCells, r *Remark) {
	r.Row, r.Column = k.labelOf(row, r.Place.Col), k.heads[r.Place.Col]
	if k.scenario != "" {
		r.Column = k.block.heads.text(r.Place.Col)
	}
	if v := k.finder.book.Stored(&r.cell); v.Kind != table.Broken {
		r.value = v
	} else {
		r.value = table.Value{Kind: table.Text, Text: r.cell.Value}
	}
	k.remarks = append(k.remarks, r)
}

// labelOf is the first word of a row that the program wrote, in another column.
func (k *sheetCheck) labelOf(row rowCells, col int) string {
	for i := range row {
		if row[i].Col < col && k.ours[row[i].Col] && strings.TrimSpace(row[i].Value) != "" {
			return row[i].Value
		}
	}
	return ""
}

package handedits

import (
	"maps"
	"slices"
	"strconv"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/seal"
	"piececost/scenarios/sheet"
)

// remark takes a cell that the last run left empty for a person's, or one with another word than it wrote. It returns false
// where the cell is as it was written, or a result.
func (k *sheetCheck) remark(row rowCells, c *ooxml.Cell, p rowFingerprints, sorted bool) bool {
	col, known := k.was.cols.exact(c.Col)
	r := &Remark{Place: table.Place{Sheet: k.name, Row: c.Row, Col: c.Col}, scenario: k.scenario, cell: *c, was: k.was, col: col}
	r.Content = c.Value
	if c.Formula != "" {
		r.Content = "=" + c.Formula
	}
	switch {
	case !known:
		r.col = 0
	case sorted:
		return k.keyOver(row, r, p)
	case p.results[col] != "":
		return false
	case p.words[col] != "":
		if k.scenario != "" && p.results[1] != "" || k.unchanged(c, p.words[col]) || c.Type == ooxml.Number && c.Formula == "" {
			return false
		}
		r.Label, r.fingerprint = true, p.words[col]
	case k.scenario != "" && p.results[1] != "" && k.block.heads.text(c.Col) != "" && (c.Formula != "" || c.Type == ooxml.Number):
		return false // a quantity of a row that has none
	}
	k.note(row, r)
	return true
}

// keyOver takes another word in the place of a key for a label, and leaves the rest of its row.
func (k *sheetCheck) keyOver(row rowCells, r *Remark, p rowFingerprints) bool {
	if r.col == 1 && p.results[1] != "" && !k.unchanged(&r.cell, p.results[1]) {
		r.Label, r.fingerprint = true, p.results[1]
	} else if r.col <= k.was.width() {
		return false
	}
	k.note(row, r)
	return true
}

// width is the last column that was written.
func (w *written) width() int {
	last := 0
	for _, then := range w.cols.then {
		last = max(last, then)
	}
	return last
}

func (k *sheetCheck) unchanged(c *ooxml.Cell, fingerprint string) bool {
	if v, err := strconv.ParseFloat(c.Value, 64); err == nil && c.Type == ooxml.Number && c.Formula == "" {
		return seal.SameNumber(fingerprint, v)
	}
	return c.Formula == "" && (fingerprint == sheet.FingerprintOfWords(c.Value) || fingerprint == seal.OfKey(c.Value))
}

// headings notes the first word of each column of a table, which ends with an empty row.
func (k *sheetCheck) headings(n int, row rowCells) {
	if n > k.last+1 || k.heads == nil {
		k.heads = map[int]string{}
	}
	k.last = n
	for i := range row {
		c := &row[i]
		if k.ours[c.Col] && c.Col > 1 && c.Type == ooxml.Text && k.heads[c.Col] == "" {
			k.heads[c.Col] = c.Value
		}
	}
}

// finish hands over what was found on a sheet. Labels that are all still there were sorted or moved, not overwritten.
func (k *sheetCheck) finish() error {
	for _, row := range slices.Sorted(maps.Keys(k.attached)) { // of empty rows
		k.noteRow(row, nil)
	}
	if slices.ContainsFunc(k.remarks, func(r *Remark) bool { return r.Label }) {
		lost, err := k.lostLabels()
		if err != nil {
			return err
		}
		k.remarks = slices.DeleteFunc(k.remarks, func(r *Remark) bool { return r.Label && !lost[label{r.col, r.fingerprint}] })
	}
	k.finder.remarks = append(k.finder.remarks, k.remarks...)
	return nil
}

type label struct {
	col         int // as written
	fingerprint string
}

// lostLabels are the words that a column has fewer times than were written.
func (k *sheetCheck) lostLabels() (map[label]bool, error) {
	count := map[label]int{}
	for _, texts := range []map[int]string{k.was.words, k.was.fingerprints} {
		for _, text := range texts {
			row, _ := seal.Parse(text)
			for col, fingerprint := range row {
				count[label{col, fingerprint}]++
			}
		}
	}
	pack := k.finder.book.Pack
	err := pack.Rows(pack.Sheet(k.name), func(_ int, cells []ooxml.Cell) error {
		for i := range cells {
			if col, ok := k.was.cols.exact(cells[i].Col); ok && cells[i].Formula == "" {
				count[label{col, sheet.FingerprintOfWords(cells[i].Value)}]--
			}
		}
		return nil
	})
	lost := map[label]bool{}
	for l, n := range count {
		lost[l] = n > 0
	}
	return lost, err
}

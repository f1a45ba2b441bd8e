package lint

import (
	"regexp"
	"slices"
	"strings"

	"piececost/scenarios/ooxml"
	"piececost/scenarios/sheetformula"
)

// plainNumber is a text that is a number and nothing else: with a decimal comma or thousands separators too. One with
// leading zeros is a key, one of more than 15 figures as well.
var plainNumber = regexp.MustCompile(`^[+-]?(0|[1-9][0-9]{0,14}|[1-9][0-9]{0,2}([,'. ][0-9]{3})+)?([.,][0-9]{1,15})?([eE][+-]?[0-9]{1,3})?\s?%?$`)

func isNumberText(c *cell) bool {
	if c.Type != ooxml.Text || c.Formula != "" {
		return false
	}
	t := strings.TrimSpace(strings.ReplaceAll(c.Value, "\u00a0", " "))
	return t != "" && strings.ContainsAny(t, "0123456789") && plainNumber.MatchString(t)
}

// numbersAsText finds numbers stored as text where they are meant as numbers: in a column of numbers, in the range of a sum, or
// beside + - * /. A text that is a number and stands among texts is a key or a heading.
func (c *checker) numbersAsText() {
	operands, sums := c.book.arithmetic()
	c.looked(func(i int, s *sheet) {
		var texts []int32
		for k := range s.cells {
			if isNumberText(&s.cells[k]) {
				texts = append(texts, int32(k))
			}
		}
		operand, summed, among := s.covered(texts, operands[i]), s.covered(texts, sums[i]), s.amongNumbers(texts)
		for n, k := range texts {
			if cell := &s.cells[k]; operand[n] || summed[n] || among[k] {
				c.add("number-as-text", i, cell.Row, cell.Col, "", "the number %s is stored as text", strings.TrimSpace(cell.Value))
			}
		}
	})
}

// arithmetic collects by sheet the cells beside arithmetic signs, and the ranges that sums read; whole columns and rows
// are left out, their headings may be numbers.
func (b *book) arithmetic() (operands, sums [][]sheetformula.Area) {
	operands, sums = make([][]sheetformula.Area, len(b.sheets)), make([][]sheetformula.Area, len(b.sheets))
	for i, s := range b.sheets {
		for k := range s.cells {
			f := s.cells[k].facts
			if f == nil || s.own {
				continue
			}
			for _, r := range b.spansOf(i, f.operands) {
				operands[r.sheet] = append(operands[r.sheet], r.Area)
			}
			for _, r := range b.spansOf(i, f.sums) {
				if r.Row2 < sheetformula.LastRow && r.Col2 < sheetformula.LastCol {
					sums[r.sheet] = append(sums[r.sheet], r.Area)
				}
			}
		}
	}
	return operands, sums
}

// amongNumbers tells of texts, by index in order, whether they stand in a column of numbers: below one; or above one and between
// two of their row, for a heading stands between texts. Further numbers stored as text do not part them from the number.
func (s *sheet) amongNumbers(texts []int32) map[int32]bool {
	above, below := map[int32]bool{}, map[int32]bool{}
	beside := func(k int32, rows int, known map[int32]bool) bool {
		i := s.index(s.cells[k].Row+rows, s.cells[k].Col)
		return i >= 0 && (s.cells[i].numeric() || known[int32(i)])
	}
	for _, k := range texts {
		above[k] = beside(k, -1, above)
	}
	for _, k := range slices.Backward(texts) {
		below[k] = beside(k, 1, below)
	}
	for _, k := range texts {
		c := &s.cells[k]
		left, right := s.at(c.Row, c.Col-1), s.at(c.Row, c.Col+1)
		between := left != nil && left.numeric() && right != nil && right.numeric()
		above[k] = above[k] || below[k] && between
	}
	return above
}

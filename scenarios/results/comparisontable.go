package results

import (
	"fmt"
	"math"

	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// sideBySide is the sheet being written: scenarios in columns, then their changes to the base.
type sideBySide struct {
	b *writer
	p *sheet.Page
	c *CompareStudy
	n int // scenarios

	costRow, massRow int // of the blocks that the verdicts rest on
}

// others lists the scenarios beside the base.
func (s *sideBySide) others() []int {
	var out []int
	for i := range s.n {
		if i != s.c.Base {
			out = append(out, i)
		}
	}
	return out
}

// titles are the headings of the first columns: two of words, then the scenarios.
func (s *sideBySide) titles(first, second string) []string {
	out := []string{first, second}
	for i := range s.n {
		out = append(out, s.b.scenarioName(i))
	}
	return out
}

// rowWords writes key and name of a row; where there is no name the key may run on into its column. Longer ones wrap.
func (s *sideBySide) rowWords(row int, key, name, kind string) {
	if name == "" {
		s.p.Set(row, 1, key, sheet.Look{Kind: kind})
		s.p.Set(row, 2, nil, sheet.Look{Kind: kind})
		return
	}
	s.b.setWords(s.p, row, 1, key, sideKeys-1, sheet.Look{Kind: kind, Wrap: true})
	s.b.setWords(s.p, row, 2, name, sideNames-1, sheet.Look{Kind: kind, Wrap: true})
}

// wordHeading writes a heading row that is high enough for the names of the scenarios.
func (s *sideBySide) wordHeading(row int, texts ...string) {
	s.p.Heading(row, 2, texts...)
	for _, text := range texts[2:] {
		s.p.Grow(row, text, sideWidth-2)
	}
}

// columns of the sheet: keys, names, and one a number
const (
	sideKeys, sideNames, sideWidth = 17, 34, 15
)

// changes writes what each other scenario has more than the base, as formulas; NaN is a row that a scenario does not have.
func (s *sideBySide) changes(row int, kind, format string, nums []float64) {
	base := fmt.Sprintf("%s%d", table.ColumnName(3+s.c.Base), row)
	k, digits := sheet.Look{Kind: kind, Format: signedFormat(format)}, decimalsOf(format)
	for n, i := range s.others() {
		if math.IsNaN(nums[i]) && math.IsNaN(nums[s.c.Base]) {
			s.p.Set(row, 3+s.n+n, nil, k)
			continue
		}
		f := fmt.Sprintf("%s%d-%s", table.ColumnName(3+i), row, base)
		s.p.Formula(row, 3+s.n+n, fmt.Sprintf("IF(ROUND(%s,%d)=0,0,%s)", f, digits, f), shownChange(study.Row{Values: nums}.Change(i, s.c.Base), digits), k)
	}
}

package ooxml

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// AsThere is the style of a cell that is to look as what stands at its place.
const AsThere = -1

// PutCells writes the target with cells put into one of its sheets; every other part stays as it is, to the byte, but for the mark
// that formulas are to be computed on loading. A cell of style AsThere keeps the style of its place, else of the column in the row
// given as a pattern, unless that shows numbers as percent or dates. One without a value leaves what is there.
func PutCells(w io.Writer, target *Package, sheet *Sheet, cells []Cell, pattern int) error {
	m := &merge{target: target, ours: &Package{}, drop: map[string]bool{}, changed: map[string][]byte{}, renamed: map[string]string{}}
	m.replaced = make([]bool, len(target.Sheets))
	if err := m.refuse(); err != nil {
		return err
	}
	data, err := m.spliced(sheet.part)
	if err != nil {
		return err
	}
	if err := puttable(data, sheet); err != nil {
		return err
	}
	cells, err = m.styled(data, cells, pattern)
	if err != nil {
		return err
	}
	if data, err = withCells(data, cells); err != nil {
		return err
	}
	if data, err = grownDimension(data, cells); err != nil {
		return err
	}
	m.changed[partKey(sheet.part)] = data
	if err := m.computedOnLoading(); err != nil {
		return err
	}
	return m.write(w)
}

// computedOnLoading changes that mark of the target's workbook part alone.
func (m *merge) computedOnLoading() error {
	data, err := m.spliced(m.main)
	if err != nil {
		return err
	}
	list, err := find(data, "sheets")
	if err != nil || list == nil {
		return fmt.Errorf("%w: its workbook part lists no sheets", ErrRefused)
	}
	b := &bookPart{data: data, prefix: prefixOf(data), list: list}
	if err := calcPr(b); err != nil {
		return err
	}
	m.changed[partKey(m.main)] = splice(data, b.edits)
	return nil
}

// puttable refuses sheets that a person has closed, and those that cells can't be put into safely.
func puttable(data []byte, sheet *Sheet) error {
	if lock, err := find(data, "sheetProtection"); err != nil {
		return err
	} else if lock != nil {
		if on, _ := lock.attr("sheet"); on == "1" || on == "true" {
			return fmt.Errorf("%w: the sheet %s is protected; unprotect it", ErrRefused, shown(sheet.Name))
		}
	}
	if prefixOf(data) != "" {
		return fmt.Errorf("%w: the sheet %s is written with prefixes; open the workbook in a spreadsheet program and save it", ErrRefused, shown(sheet.Name))
	}
	rows, err := rowsIn(data)
	last := 0
	for i := range rows {
		n := rows[i].number("r", 0)
		if n <= last {
			return fmt.Errorf("%w: the rows of the sheet %s stand in no order; open the workbook in a spreadsheet program and save it", ErrRefused,
				shown(sheet.Name))
		}
		last = n
	}
	return err
}

func rowsIn(data []byte) ([]element, error) {
	list, err := find(data, "sheetData")
	if err != nil || list == nil || list.empty {
		return nil, err
	}
	return children(data, list.inner, list.close, "row", 0)
}

// styled gives the cells of style AsThere their styles.
func (m *merge) styled(data []byte, cells []Cell, pattern int) ([]Cell, error) {
	rows, err := rowsIn(data)
	if err != nil {
		return nil, err
	}
	wanted := map[int]bool{pattern: true}
	for i := range cells {
		wanted[cells[i].Row] = true
	}
	styles, taken := map[int]map[int]int{}, map[[2]int]bool{} // by row and column
	for i := range rows {
		n := rows[i].number("r", 0)
		if !wanted[n] || rows[i].empty {
			continue
		}
		there, err := children(data, rows[i].inner, rows[i].close, "c", 0)
		if err != nil {
			return nil, err
		}
		styles[n] = map[int]int{}
		for j := range there {
			ref, _ := there[j].attr("r")
			_, col, ok := parseCell(ref)
			if style := there[j].number("s", 0); ok && m.plain(style) {
				styles[n][col] = style
			}
			taken[[2]int{n, col}] = ok
		}
	}
	out := slices.DeleteFunc(slices.Clone(cells), func(c Cell) bool { return !c.HasValue && taken[[2]int{c.Row, c.Col}] })
	for i := range out {
		c := &out[i]
		if c.Style != AsThere {
			continue
		}
		var ok bool
		if c.Style, ok = styles[c.Row][c.Col]; !ok {
			c.Style = styles[pattern][c.Col]
		}
	}
	return out, nil
}

// plain tells whether a style shows a number as it is.
func (m *merge) plain(style int) bool {
	s := m.target.Style(style)
	return !s.Percent && !s.Date
}

// grownDimension lets the range that a sheet says it uses reach the cells.
func grownDimension(data []byte, cells []Cell) ([]byte, error) {
	d, err := find(data, "dimension")
	if err != nil || d == nil {
		return data, err
	}
	ref, _ := d.attr("ref")
	from, to, ranged := strings.Cut(ref, ":")
	if !ranged {
		to = from
	}
	row1, col1, ok1 := parseCell(from)
	row2, col2, ok2 := parseCell(to)
	if !ok1 || !ok2 {
		return data, nil
	}
	for _, c := range cells {
		row1, col1, row2, col2 = min(row1, c.Row), min(col1, c.Col), max(row2, c.Row), max(col2, c.Col)
	}
	grown := fmt.Sprintf("%s%d:%s%d", columnName(col1), row1, columnName(col2), row2)
	return splice(data, []edit{{d.from, d.inner, setAttr(string(data[d.from:d.inner]), "ref", grown)}}), nil
}

// sharedCell is a cell with a shared text as the library writes it.
var sharedCell = regexp.MustCompile(`<c ([^<>]*)t="s"([^<>]*)><v>([0-9]+)</v></c>`)

// withOwnTexts puts the shared texts of one of our packages into the cells of a sheet, which goes where other texts are shared. Sheets
// that are streamed hold theirs already.
func (p *Package) withOwnTexts(data []byte) []byte {
	if len(p.strings) == 0 {
		return data
	}
	return sharedCell.ReplaceAllFunc(data, func(cell []byte) []byte {
		part := sharedCell.FindSubmatch(cell)
		n, err := strconv.Atoi(string(part[3]))
		if err != nil || n >= len(p.strings) {
			return cell
		}
		return fmt.Appendf(nil, `<c %st="inlineStr"%s><is><t xml:space="preserve">%s</t></is></c>`, part[1], part[2], storedText(p.strings[n]))
	})
}

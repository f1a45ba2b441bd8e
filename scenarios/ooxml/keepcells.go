package ooxml

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// withCells puts cells of a user's into one of our sheets, which stand in order and without prefix, as the library writes
// them. A cell takes the place of one that is there; its style is a number of the target's. A formula stands without
// value: the old one belongs to old results, and a program that opens the workbook computes it.
func withCells(data []byte, cells []Cell) ([]byte, error) {
	cells = slices.Clone(cells)
	slices.SortStableFunc(cells, func(a, b Cell) int { return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.Col, b.Col)) })
	list, err := find(data, "sheetData")
	if err != nil {
		return nil, err
	}
	if list == nil {
		return nil, fmt.Errorf("a sheet has no list of cells")
	}
	if list.empty {
		return splice(data, []edit{insertEnd(data, list, rowsOf(cells))}), nil
	}
	rows, err := children(data, list.inner, list.close, "row", 0)
	if err != nil {
		return nil, err
	}
	var edits []edit
	for i := range rows {
		n := rows[i].number("r", 0)
		before := until(cells, func(c *Cell) bool { return c.Row < n })
		edits = append(edits, edit{rows[i].from, rows[i].from, rowsOf(cells[:before])})
		cells = cells[before:]
		here := until(cells, func(c *Cell) bool { return c.Row == n })
		more, err := rowEdits(data, &rows[i], cells[:here])
		if err != nil {
			return nil, err
		}
		edits, cells = append(edits, more...), cells[here:]
	}
	return splice(data, append(edits, edit{list.close, list.close, rowsOf(cells)})), nil
}

// until counts the cells from the first on for which something holds.
func until(cells []Cell, holds func(*Cell) bool) int {
	n := 0
	for n < len(cells) && holds(&cells[n]) {
		n++
	}
	return n
}

// rowEdits puts cells into a row.
func rowEdits(data []byte, row *element, cells []Cell) ([]edit, error) {
	if len(cells) == 0 {
		return nil, nil
	}
	if row.empty {
		return []edit{insertEnd(data, row, cellsOf(cells))}, nil
	}
	there, err := children(data, row.inner, row.close, "c", 0)
	if err != nil {
		return nil, err
	}
	var edits []edit
	for i := range there {
		ref, _ := there[i].attr("r")
		_, col, ok := parseCell(ref)
		if !ok {
			return nil, fmt.Errorf("a cell is called %.20q", ref)
		}
		before := until(cells, func(c *Cell) bool { return c.Col < col })
		edits = append(edits, edit{there[i].from, there[i].from, cellsOf(cells[:before])})
		cells = cells[before:]
		if len(cells) > 0 && cells[0].Col == col {
			edits = append(edits, edit{there[i].from, there[i].to, cellText(&cells[0])})
			cells = cells[1:]
		}
	}
	return append(edits, edit{row.close, row.close, cellsOf(cells)}), nil
}

// rowsOf writes cells with their rows.
func rowsOf(cells []Cell) string {
	var b strings.Builder
	for len(cells) > 0 {
		n := until(cells, func(c *Cell) bool { return c.Row == cells[0].Row })
		fmt.Fprintf(&b, `<row r="%d">%s</row>`, cells[0].Row, cellsOf(cells[:n]))
		cells = cells[n:]
	}
	return b.String()
}

func cellsOf(cells []Cell) string {
	var b strings.Builder
	for i := range cells {
		b.WriteString(cellText(&cells[i]))
	}
	return b.String()
}

// cellText writes a cell; a text stands in the cell itself.
func cellText(c *Cell) string {
	open := fmt.Sprintf(`<c r="%s%d" s="%d"`, columnName(c.Col), c.Row, c.Style)
	switch {
	case c.Formula != "":
		return open + "><f>" + storedText(c.Formula) + "</f></c>"
	case !c.HasValue:
		return open + "/>"
	case c.Type == Text:
		return open + ` t="inlineStr"><is><t xml:space="preserve">` + storedText(c.Value) + "</t></is></c>"
	case c.Type != Number:
		open += ` t="` + string(rune(c.Type)) + `"`
	}
	return open + "><v>" + storedText(c.Value) + "</v></c>"
}

var escapeLike = regexp.MustCompile(`^_x[0-9A-Fa-f]{4}_`)

// storedText writes a text as a part holds it: what looks like an escape, and characters that XML can't hold, are escaped
// (ECMA-376 part 1, 22.9.2.19).
func storedText(text string) string {
	var b bytes.Buffer
	for i, r := range text {
		if r < ' ' && r != '\t' && r != '\n' || r == 0xFFFE || r == 0xFFFF || r == '_' && escapeLike.MatchString(text[i:]) {
			b.WriteString("_x" + strings.ToUpper(strconv.FormatInt(0x10000+int64(r), 16)[1:]) + "_")
			continue
		}
		b.WriteRune(r)
	}
	return escape(b.String())
}

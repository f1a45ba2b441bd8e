package handedits

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/seal"
)

// handFormula translates a formula that a person wrote into a cell of a calculation: cells of its own row, and input
// cells that its row leads to, become names; each stands divided by the unit of its cell, and the whole is multiplied by
// that of the result, so that the formula means what it means in the sheet.
type handFormula struct {
	finder   *editFinder
	block    *calcBlock
	row      rowCells
	number   int // of the row
	scope    string
	sheet    string
	quantity *costmodel.Quantity
}

// expression returns the text; ok is false where the formula reaches beyond its row and the inputs.
func (h *handFormula) expression(formula, unit string) (text string, ok bool) {
	if h.quantity.Flag || len(h.quantity.Options) > 0 {
		return "", false
	}
	bare := true
	text, ok = seal.Expression(formula, func(sheet string, c seal.Cell) string {
		bare = false
		return h.name(sheet, c)
	})
	if !ok {
		return "", false
	}
	if bare && strings.TrimSpace(unit) == "%" {
		return fmt.Sprintf(`(%s) * "100 %%"`, text), true // a bare number would be one of the column, 1 for 1 %
	}
	if one := plainUnit(unit); one != "" {
		text = fmt.Sprintf(`(%s) * "1 %s"`, text, one)
	}
	return text, true
}

// plainUnit is a unit as it multiplies a number of a calculation: shares stand there as fractions.
func plainUnit(unit string) string {
	u := strings.TrimSpace(strings.ReplaceAll(unit, "%", "1"))
	switch {
	case u == "1" || u == "":
		return ""
	case strings.HasPrefix(u, "1/"):
		return u
	}
	return u
}

// over writes a name as a number in a unit.
func over(name, unit string) string {
	if one := plainUnit(unit); one != "" {
		return fmt.Sprintf(`(%s / "1 %s")`, name, one)
	}
	return name
}

// name is the seal.Name of the row.
func (h *handFormula) name(sheet string, c seal.Cell) string {
	if sheet == "" || sheet == h.sheet {
		return h.ownCell(c)
	}
	return h.inputCell(table.Place{File: h.finder.model.Case.File, Sheet: sheet, Row: c.Row, Col: c.Col})
}

// ownCell names a cell of the same row: a quantity, or a link whose heading is its path.
func (h *handFormula) ownCell(c seal.Cell) string {
	heading, unit := h.block.heads.text(c.Col), h.block.units.text(c.Col)
	if c.Row != h.number || heading == "" {
		return ""
	}
	if q, ok := h.finder.model.QuantityNamed(h.scope, heading); ok {
		if q.Flag || len(q.Options) > 0 || q == h.quantity {
			return ""
		}
		return over(q.Name, unit)
	}
	if strings.Contains(heading, ".") && !strings.ContainsAny(heading, " ") {
		return over(heading, unit)
	}
	return ""
}

// inputCell names a number of an input sheet that the row leads to.
func (h *handFormula) inputCell(p table.Place) string {
	m, ok := h.finder.meanings[p]
	if !ok {
		return ""
	}
	path := h.pathTo(m)
	if path == "-" {
		return ""
	}
	return over(path+m.Quantity, m.Unit.Text)
}

// pathTo is how the row leads to a record: "" its own, "machine." another, "-" not at all.
func (h *handFormula) pathTo(m costmodel.CellMeaning) string {
	key := h.row.text(1)
	switch {
	case m.Scope == "case":
		return "case."
	case m.Scope == h.scope && m.Key == key:
		return ""
	}
	for _, head := range h.block.heads {
		word := table.Normalise(head.Value)
		if word == m.Scope && h.row.text(head.Col) == m.Key && (word == "machine" || word == "plant" || word == "part" || word == "material") {
			return word + "."
		}
	}
	return "-"
}

package lint

import (
	"strconv"

	"piececost/scenarios/ooxml"
	"piececost/scenarios/sheetformula"
)

const maxAreas = 10000 // array formulas and rules of a sheet that are followed

// scanPart reads from a sheet's part what stands beside its cells: hidden rows and columns, the ranges of array formulas
// and data tables, the formulas of conditional formats and drop-downs.
func (s *sheet) scanPart(p *ooxml.Package, part string) error {
	row := 0
	return elements(p, part, func(e *element) error {
		switch e.name {
		case "row":
			row = e.number("r", row+1)
			s.rowState(e, row)
		case "col":
			s.columnState(e)
		case "f", "formula", "formula1", "formula2":
			return s.formulaElement(e)
		}
		return nil
	})
}

func (e *element) number(name string, otherwise int) int {
	n, err := strconv.Atoi(e.attr(name))
	if err != nil {
		return otherwise
	}
	return n
}

// rowState keeps a hidden row; a height of nothing hides as well.
func (s *sheet) rowState(e *element, row int) {
	if !e.flag("hidden") && e.attr("ht") != "0" {
		return
	}
	s.hiddenRows[row] = true
	s.closedRows[row] = e.number("outlineLevel", 0) > 0
}

func (s *sheet) columnState(e *element) {
	if (e.flag("hidden") || e.attr("width") == "0") && len(s.hiddenCols) < maxAreas {
		s.hiddenCols = append(s.hiddenCols, columnRange{e.number("min", 0), e.number("max", 0), e.number("outlineLevel", 0) > 0})
	}
}

// formulaElement keeps the range of an array formula or data table and the input cells of the latter; of a rule, what it
// reads. The formulas of cells come with the cells.
func (s *sheet) formulaElement(e *element) error {
	if e.name == "f" && e.prefix != "xm" {
		if kind := e.attr("t"); kind == "array" || kind == "dataTable" {
			s.arrayFormula(e)
		}
		return nil
	}
	formula, err := e.text()
	s.rule(formula)
	return err
}

func (s *sheet) arrayFormula(e *element) {
	if a, ok := sheetformula.ParseArea(e.attr("ref")); ok && len(s.computed) < maxAreas {
		s.computed = append(s.computed, a)
	}
	for _, name := range []string{"r1", "r2"} {
		if a, ok := sheetformula.ParseArea(e.attr(name)); ok {
			s.rules = append(s.rules, &facts{reads: []sheetformula.Ref{{Area: a}}})
		}
	}
}

// rule keeps what the formula of a rule reads. Its relative references move over the cells of the rule, so they count
// as whole rows and columns.
func (s *sheet) rule(formula string) {
	if formula == "" {
		return
	}
	if len(s.rules) >= maxAreas { // what this one reads is not followed, so nothing can be called unread
		s.rules[0] = &facts{blind: true}
		return
	}
	f := factsOf(formula, 1, 1)
	for i := range f.reads {
		r := &f.reads[i]
		if !r.Fixed[0] || !r.Fixed[2] {
			r.Row1, r.Row2 = 1, sheetformula.LastRow
		}
		if !r.Fixed[1] || !r.Fixed[3] {
			r.Col1, r.Col2 = 1, sheetformula.LastCol
		}
	}
	s.rules = append(s.rules, f)
}

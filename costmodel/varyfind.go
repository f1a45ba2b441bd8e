package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// foundInput is an input with the rows it means. The sheet Scenarios has no records: each scenario has its own.
type foundInput struct {
	input    Input // as the sheets write it
	layout   *table.Layout
	scope    *Scope
	records  []*Record
	quantity int32
	unit     units.Unit
}

// An inputFault says what is wrong with the words that name an input. The diagnostic names no cell, since an input may come
// from anywhere; word is which of the three is wrong.
type inputFault struct {
	table.Diagnostic
	word string // "sheet", "row" or "column"
}

// findInput finds the sheet, the rows and the quantity that an input names.
func (m *Model) findInput(in Input) (foundInput, *inputFault) {
	f := foundInput{layout: table.LayoutOf(in.Sheet)}
	if f.layout == nil || f.layout.Scope == "" {
		d := m.inputFault("", fmt.Sprintf("there is no input sheet %q", in.Sheet), nearestOr(in.Sheet, inputSheets(),
			"inputs stand in "+strings.Join(inputSheets(), ", ")))
		return f, &inputFault{*d, "sheet"}
	}
	f.scope = m.Schema.byName[f.layout.Scope]
	row, column, words := in.Row, in.Column, [2]string{"row", "column"}
	if in.rows == "" && m.orderOf(f.layout, row, column) == quantityFirst {
		row, column, words = column, row, [2]string{"column", "row"}
	}
	if f.layout.Sheet == "Case" && in.rows == "" && (words[0] == "column" || m.namesThing(f.layout, row)) {
		row = ""
	}
	if f.records = m.recordsOf(f.scope.Name, in.rows); len(f.records) == 0 {
		if d := m.findRows(&f, row); d != nil {
			if help := m.exchangedHelp(f.layout, row, column); help != "" {
				d.Help = help
			}
			return f, &inputFault{*d, words[0]}
		}
	}
	if d := m.findQuantity(&f, column); d != nil {
		return f, &inputFault{*d, words[1]}
	}
	f.input = Input{Sheet: f.layout.Sheet, Row: row, Column: f.scope.Quantities[f.quantity].Label, By: in.By, rows: in.rows}
	if len(f.records) == 1 && in.rows == "" && f.scope.Name != "case" {
		f.input.Row = f.records[0].Key
	}
	return f, nil
}

func (m *Model) inputFault(sheet, summary, help string) *table.Diagnostic {
	return &table.Diagnostic{Code: "vary", Severity: table.Error, Summary: table.Brief(summary), Help: table.Brief(help),
		Place: table.Place{File: m.Case.File, Sheet: sheet}}
}

// nearestOr proposes the nearest name, or says something else where none is near.
func nearestOr(name string, known []string, otherwise string) string {
	if near := formula.Nearest(name, known); near != "" {
		return "did you mean " + near + "?"
	}
	return otherwise
}

func inputSheets() []string {
	var out []string
	for _, l := range table.Layouts {
		if l.Scope != "" {
			out = append(out, l.Sheet)
		}
	}
	return out
}

// findRows finds the records of a row selector.
func (m *Model) findRows(f *foundInput, row string) *table.Diagnostic {
	if f.scope.Name == "case" || f.scope.Name == "scenario" {
		if row != "" {
			return m.inputFault(f.layout.Sheet, fmt.Sprintf("the sheet %s has no rows to choose from, and %q names one", f.layout.Sheet, row),
				"write "+f.layout.Sheet+"/ and the quantity")
		}
		f.records = m.records[f.scope.Name]
		return nil
	}
	if row == "" {
		return m.inputFault(f.layout.Sheet, "the input names no row", fmt.Sprintf("write %s/row/column", f.layout.Sheet))
	}
	if f.records = m.recordsMatching(f.scope.Name, row); len(f.records) > 0 {
		return nil
	}
	rows, keys := "row", "a key"
	if f.layout.Sheet == "Plants" {
		rows, keys = "plant", "a plant"
	}
	return m.inputFault(f.layout.Sheet, fmt.Sprintf("%q matches no %s of the sheet %s", row, rows, f.layout.Sheet), nearestOr(row, m.keys(f.scope.Name),
		"write "+keys+" of that sheet, a list of them, or *"))
}

// recordsMatching finds records by key, or else by selector.
func (m *Model) recordsMatching(scope, row string) []*Record {
	if recs := m.byKey[scope][row]; len(recs) > 0 {
		return recs
	}
	if r := m.sizedNamed(row); scope == machineScope && r != nil {
		return []*Record{r}
	}
	sel, err := parseSelector(row)
	if err != nil {
		return nil
	}
	var out []*Record
	for _, r := range m.records[scope] {
		if sel.matches(r.Key) {
			out = append(out, r)
		}
	}
	return out
}

// findQuantity finds the quantity of a heading and the unit in which its cells are read.
func (m *Model) findQuantity(f *foundInput, column string) *table.Diagnostic {
	name, unit, bracket := table.SplitHeading(column)
	n, ok := f.scope.byHeading(name)
	if !ok {
		var known []string
		for _, q := range f.scope.Quantities {
			if q.Check == nil {
				known = append(known, table.Normalise(q.Label))
			}
		}
		if near := formula.Nearest(name, known); near != "" {
			n, _ = f.scope.byHeading(near)
			return m.inputFault(f.layout.Sheet, fmt.Sprintf("%q is no quantity of the sheet %s", column, f.layout.Sheet), fmt.Sprintf("did you mean %s?",
				f.scope.Quantities[n].Label))
		}
		return m.inputFault(f.layout.Sheet, fmt.Sprintf("%q is no quantity of the sheet %s", column, f.layout.Sheet),
			"write a heading of that sheet, or a name that `piececost processes "+f.scope.Name+"` lists")
	}
	n = m.ownOfRows(f, n)
	q := f.scope.Quantities[n]
	switch {
	case q.Structural:
		return m.inputFault(f.layout.Sheet, q.Label+" follows from the structure and can't be varied", "")
	case q.Flag || len(q.Options) > 0:
		return m.inputFault(f.layout.Sheet, q.Label+" is a choice and can't be varied as a number",
			"make a scenario for each choice, with a change of it in the sheet Scenarios")
	}
	f.quantity = n
	if !bracket {
		f.unit = m.unitOfCells(f)
		return nil
	}
	u, err := m.Schema.Units.Parse(unit)
	if err != nil {
		return m.inputFault(f.layout.Sheet, fmt.Sprintf("%q: %v", column, err), "")
	}
	if !u.Fits(q.Unit) {
		return m.inputFault(f.layout.Sheet, fmt.Sprintf("%q: the unit is %s, but %s is %s", column, u.Describe(), q.Label, q.Unit.Describe()), u.Help(q.Unit))
	}
	f.unit = u
	return nil
}

// unitOfCells is the unit in which the sheet has the quantity: that of the rows' own cells, of the column, or of the
// definition.
func (m *Model) unitOfCells(f *foundInput) units.Unit {
	for _, recs := range [][]*Record{f.records, m.records[f.scope.Name]} {
		for _, r := range recs {
			if x := r.field(f.quantity); x != nil {
				return x.unit
			}
		}
	}
	for _, r := range f.records {
		if d := f.scope.definition(m.variantOf(f.scope, r), f.quantity); d != nil {
			return d.Unit
		}
	}
	return f.scope.Quantities[f.quantity].Unit
}

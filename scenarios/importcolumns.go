package scenarios

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
)

// findColumns finds each mapped column in the file and in the sheet; a heading that is not there is added at the right.
func (s *importSheet) findColumns() error {
	if len(s.existing) == 0 {
		s.existing = [][]string{nil}
	}
	for _, m := range s.maps {
		c := importColumn{ColumnMap: m, from: -1}
		if m.Column != "" {
			if c.from = indexOf(s.rows[0], m.Column); c.from < 0 {
				return fmt.Errorf("%s has no column %q; its columns are %s", m.File, m.Column, strings.Join(s.rows[0], ", "))
			}
		}
		c.name, _, _ = costmodel.SplitHeading(m.Heading)
		if c.to = s.columnNamed(c.name); c.to == 0 && s.layout.Shape == costmodel.ColumnsAre && isValueColumn(m.Heading) {
			if err := s.takeColumn(&c); err != nil {
				return err
			}
		}
		if err := s.columnUnit(&c); err != nil {
			return err
		}
		s.columns = append(s.columns, c)
	}
	return nil
}

// columnNamed finds a column of the sheet, 0 where there is none.
func (s *importSheet) columnNamed(name string) int {
	for i, h := range s.existing[0] {
		if n, _, _ := costmodel.SplitHeading(h); n == name {
			return i + 1
		}
	}
	return 0
}

// placeholders are the things that an empty workbook starts with.
var placeholders = map[string]string{"Plants": "Plant 1", "Scenarios": "Scenario 1"}

// takeColumn finds the place of a plant or scenario that the sheet doesn't have: that of the one an empty workbook starts
// with, as long as it is empty and the table doesn't name it. The sheet Case has one column of values, whatever its name.
func (s *importSheet) takeColumn(c *importColumn) error {
	if s.layout.Sheet == "Case" {
		first, _ := valueColumns(s.existing[0])
		for _, other := range s.columns {
			if other.to == first && first > 0 {
				return fmt.Errorf("%s: %s and %s both hold the values of the sheet Case, which has one column of them", s.file, other.Heading, c.Heading)
			}
		}
		c.to = first
		return nil
	}
	placeholder := placeholders[s.layout.Sheet]
	at := indexOf(s.existing[0], placeholder) + 1
	if at == 0 || s.isNamed(placeholder) || !s.isUnused(at) {
		return nil
	}
	c.to = at
	if err := s.setHeading(at, c.Heading); err != nil {
		return err
	}
	if s.layout.Scope == "scenario" {
		return s.clearColumn(at) // what an empty workbook presets
	}
	return s.renamePlant(placeholder, c.Heading)
}

// clearColumn empties a column below its heading; formats stay.
func (s *importSheet) clearColumn(col int) error {
	for i, row := range s.existing[1:] {
		if cellAt(row, col-1) == "" {
			continue
		}
		row[col-1] = ""
		cell, err := excelize.CoordinatesToCellName(col, i+2)
		if err != nil {
			return err
		}
		if err := s.f.SetCellValue(s.layout.Sheet, cell, nil); err != nil {
			return err
		}
	}
	return nil
}

// renamePlant lets scenarios follow a plant that gets another name. Where several plants come, none is chosen for them.
func (s *importSheet) renamePlant(from string, to any) error {
	plants := 0
	for _, m := range s.maps {
		if isValueColumn(m.Heading) {
			plants++
		}
	}
	if plants > 1 {
		to = nil
	}
	rows, err := s.f.GetRows("Scenarios")
	if err != nil {
		return nil // there is no such sheet
	}
	for r, row := range rows {
		for c, text := range row {
			if name, _ := rowQuantity(costmodel.LayoutOf("Scenarios"), rows[0], row); name != "plant" || text != from {
				continue
			}
			cell, err := excelize.CoordinatesToCellName(c+1, r+1)
			if err != nil {
				return err
			}
			if err := s.f.SetCellValue("Scenarios", cell, to); err != nil {
				return err
			}
		}
	}
	return nil
}

func (s *importSheet) isNamed(heading string) bool {
	for _, m := range s.maps {
		if m.Heading == heading {
			return true
		}
	}
	return false
}

// isUnused tells whether a plant has no value, or a scenario neither product nor volume.
func (s *importSheet) isUnused(col int) bool {
	for _, row := range s.existing[1:] {
		name, _ := rowQuantity(s.layout, s.existing[0], row)
		counts := s.layout.Scope != "scenario" || name == "product" || name == "annual_volume"
		if counts && cellAt(row, col-1) != "" {
			return false
		}
	}
	return true
}

// columnUnit settles the unit of a column, and adds its heading where the sheet has none. On a sheet on which a row is a
// quantity the row has the unit.
func (s *importSheet) columnUnit(c *importColumn) error {
	if s.layout.Shape == costmodel.ColumnsAre {
		if c.inUnit.factor = 1; c.to > 0 {
			return nil
		}
		c.to = len(s.existing[0]) + 1
		if err := s.setHeading(c.to, c.Heading); err != nil || !isValueColumn(c.Heading) {
			return err
		}
		return s.addThing(c.to)
	}
	_, unit, bracket := costmodel.SplitHeading(c.Heading)
	c.inUnit = inUnit{shown: unit, table: unit, factor: 1}
	kind := s.kind(s.layout, c.name)
	if it := s.lib.Describe(s.layout.Scope, c.name); kind == quantities && !bracket && needsUnit(it) {
		return fmt.Errorf("%s: heading %q has no unit; write %s [%s]", s.file, c.Heading, it.Label, s.shownUnit(it))
	}
	if c.to == 0 {
		c.to = len(s.existing[0]) + 1
		return s.addColumn(c)
	}
	_, c.shown, _ = costmodel.SplitHeading(s.existing[0][c.to-1])
	if !bracket || kind == words || kind == ownContent && s.layout.Scope != "" {
		c.table = c.shown
		return nil
	}
	takes, err := s.settle(&c.inUnit, c.name, c.Heading, s.isEmpty(c.to))
	if err != nil || !takes {
		return err
	}
	return s.changeColumn(c.to, unit)
}

func needsUnit(it *costmodel.Item) bool {
	return it != nil && it.Unit != "" && it.Unit != "1"
}

// shownUnit is the unit of a quantity with the model currency's code.
func (im *importer) shownUnit(it *costmodel.Item) string {
	return strings.ReplaceAll(it.Unit, "currency", im.sys.ModelCurrency())
}

// settle compares the unit of a table with that of the sheet. takes says that the sheet is to take the table's, since it
// has no values yet; else in.factor converts numbers.
func (s *importSheet) settle(in *inUnit, name, what string, empty bool) (takes bool, err error) {
	if in.shown == in.table {
		return false, nil
	}
	theirs, err := s.sys.Parse(in.table)
	if err != nil {
		return false, fmt.Errorf("%s, %s: %w", s.file, what, err)
	}
	mismatch := fmt.Errorf("%s: %s is %s, but the sheet %s has it in [%s]", s.file, what, theirs.Dim.Describe(), s.layout.Sheet, in.shown)
	if it := s.lib.Describe(s.layout.Scope, name); it != nil {
		if own, err := s.sys.Parse(it.Unit); err == nil && own.Dim != theirs.Dim {
			return false, mismatch
		}
	}
	ours, err := s.sys.Parse(in.shown)
	switch {
	case err == nil && ours.Dim == theirs.Dim && ours.Factor == theirs.Factor:
		return false, nil // the same unit spelt otherwise
	case empty:
		label, _, _ := strings.Cut(what, "[")
		s.report.Units = append(s.report.Units, fmt.Sprintf("%s: %s, now in [%s] instead of [%s]", s.layout.Sheet, strings.TrimSpace(label), in.table, in.shown))
		in.shown = in.table
		return true, nil
	case err != nil:
		return false, fmt.Errorf("%s, sheet %s, %s: %w", s.file, s.layout.Sheet, what, err)
	case ours.Dim != theirs.Dim:
		return false, mismatch
	}
	in.factor = theirs.Factor / ours.Factor
	s.converted[s.layout.Sheet+"|"+name] = theirs
	return false, nil
}

// isEmpty tells whether a column has nothing below its heading.
func (s *importSheet) isEmpty(col int) bool {
	for _, row := range s.existing[1:] {
		if cellAt(row, col-1) != "" {
			return false
		}
	}
	return true
}

// addColumn adds a column at the right, with the formats and lists that those of an empty workbook have.
func (s *importSheet) addColumn(c *importColumn) error {
	if err := s.dressColumn(c.to, c.Heading); err != nil {
		return err
	}
	return s.columnValidation(s.layout, c.to, c.Heading)
}

// changeColumn gives a column without values another unit.
func (s *importSheet) changeColumn(col int, unit string) error {
	label, _, _ := strings.Cut(s.existing[0][col-1], "[")
	heading := fmt.Sprintf("%s [%s]", strings.TrimSpace(label), unit)
	if err := s.dressColumn(col, heading); err != nil {
		return err
	}
	letters, err := excelize.ColumnNumberToName(col)
	if err != nil {
		return err
	}
	err = s.validations(s.layout.Sheet, func(dv *excelize.DataValidation) bool {
		return !strings.HasPrefix(dv.Sqref, letters+"2:"+letters)
	})
	if err != nil {
		return err
	}
	return s.columnValidation(s.layout, col, heading)
}

// dressColumn writes a heading and gives the empty column below the format of its unit.
func (s *importSheet) dressColumn(col int, heading string) error {
	id, err := s.looks.id(look{kind: "below"})
	if err != nil {
		return err
	}
	letters, err := excelize.ColumnNumberToName(col)
	if err != nil {
		return err
	}
	if err := s.f.SetColStyle(s.layout.Sheet, letters, id); err != nil {
		return err
	}
	if err := s.columnFormat(s.layout.Sheet, col, heading); err != nil {
		return err
	}
	if err := s.setHeading(col, heading); err != nil {
		return err
	}
	_, unit, _ := costmodel.SplitHeading(heading)
	for r := 2; r < max(s.next, markedRows+2); r++ {
		if err := s.write(s.layout.Sheet, r, col, content{}, unit, "", look{kind: "input"}); err != nil {
			return err
		}
	}
	return nil
}

func (s *importSheet) setHeading(col int, text string) error {
	for len(s.existing[0]) < col {
		s.existing[0] = append(s.existing[0], "")
	}
	s.existing[0][col-1] = text
	return s.write(s.layout.Sheet, 1, col, content{text: text}, "", "", look{kind: "heading"})
}

// validations keeps the validations of a sheet that the function keeps, as it leaves them.
func (b *starter) validations(sheet string, keep func(*excelize.DataValidation) bool) error {
	all, err := b.f.GetDataValidations(sheet)
	if err != nil || len(all) == 0 {
		return err
	}
	if err := b.f.DeleteDataValidation(sheet); err != nil {
		return err
	}
	for _, dv := range all {
		if !keep(dv) {
			continue
		}
		if err := b.f.AddDataValidation(sheet, dv); err != nil {
			return err
		}
	}
	return nil
}

// finish marks rows below the table as inputs, as in an empty workbook.
func (s *importSheet) finish() error {
	return s.emptyRows(s.layout, s.existing[0], s.next-1)
}

// growLists lets the lists of keys reach the end of the sheets that they are from, and some way further.
func (im *importer) growLists() error {
	last := map[string]int{}
	for _, sheet := range []string{"Materials", "Machines", "Parts"} {
		rows, err := im.f.GetRows(sheet)
		if err != nil {
			return err
		}
		if n := lastUsed(rows); n > listRows-1000 {
			last[keyList(sheet, listRows)] = n + listRows
		}
	}
	if len(last) == 0 {
		return nil
	}
	for _, sheet := range im.f.GetSheetList() {
		err := im.validations(sheet, func(dv *excelize.DataValidation) bool {
			for list, n := range last {
				if dv.Formula1 == list {
					keys, _, _ := strings.Cut(list, "!")
					dv.Formula1 = keyList(keys, n)
				}
			}
			return true
		})
		if err != nil {
			return err
		}
	}
	return nil
}

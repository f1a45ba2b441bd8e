package starter

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
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
		c.name, _, _ = table.SplitHeading(m.Heading)
		if c.to = s.columnNamed(c.name); c.to == 0 && s.layout.Shape == table.ColumnsAre && isValueColumn(m.Heading) {
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
		if n, _, _ := table.SplitHeading(h); n == name {
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
			if name, _ := rowQuantity(table.LayoutOf("Scenarios"), rows[0], row); name != "plant" || text != from {
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

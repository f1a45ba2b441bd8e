package starter

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

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
	id, err := s.looks.ID(sheet.Look{Kind: "below"})
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
	_, unit, _ := table.SplitHeading(heading)
	for r := 2; r < max(s.next, markedRows+2); r++ {
		if err := s.write(s.layout.Sheet, r, col, Content{}, unit, "", sheet.Look{Kind: "input"}); err != nil {
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
	return s.write(s.layout.Sheet, 1, col, Content{Text: text}, "", "", sheet.Look{Kind: "heading"})
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

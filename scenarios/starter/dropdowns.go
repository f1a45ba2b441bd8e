package starter

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// lastRow is the last row of a sheet (ECMA-376). Formats, validations and lists of a column reach down to it, so that they
// hold for whatever row is typed or pasted, and have not to grow.
const lastRow = 1048576

// percentColumns formats the columns in percent as percent, from the heading to the last row; to be called before cells
// are written, since it takes the format of those that are there.
func (b *starter) percentColumns(l *table.Layout, head []string) error {
	if l.Shape == table.ColumnsAre {
		return nil // a row has the unit
	}
	for c, text := range head {
		if err := b.columnFormat(l.Sheet, c+1, text); err != nil {
			return err
		}
	}
	return nil
}

// columnFormat gives a column the format of its unit: percent, or none.
func (b *starter) columnFormat(on string, col int, heading string) error {
	name, unit, _ := table.SplitHeading(heading)
	format := ""
	switch {
	case strings.HasPrefix(unit, "%"):
		format = percentFormat(0.5)
	case isTyped(on, name):
		format = asTyped
	default:
		return nil
	}
	id, err := b.looks.ID(sheet.Look{Kind: "below", Format: format})
	if err != nil {
		return err
	}
	letters, err := excelize.ColumnNumberToName(col)
	if err != nil {
		return err
	}
	return b.f.SetColStyle(on, letters, id)
}

// dropDowns adds lists to columns of keys and choices, and 0 to 100 % to columns of shares.
func (b *starter) dropDowns(l *table.Layout, head []string, rows [][]string) error {
	if isQuotes(l) && l.Shape == table.ColumnsAre {
		if err := b.choiceRows(l, head, rows); err != nil {
			return err
		}
	}
	if l.Shape == table.ColumnsAre {
		return b.shareRows(l, head, rows)
	}
	for c, text := range head {
		if err := b.columnValidation(l, c+1, text); err != nil {
			return err
		}
	}
	return nil
}

// columnValidation gives a column its list or range.
func (b *starter) columnValidation(l *table.Layout, col int, heading string) error {
	name, unit, _ := table.SplitHeading(heading)
	letters, err := excelize.ColumnNumberToName(col)
	if err != nil {
		return err
	}
	dv := excelize.NewDataValidation(true)
	dv.SetSqref(fmt.Sprintf("%s2:%s%d", letters, letters, lastRow))
	if unit == "%" {
		err = shareRange(dv, heading)
	} else {
		err = b.listFor(l, name, dv)
	}
	if err == nil && dv.Type != "" {
		err = b.f.AddDataValidation(l.Sheet, dv)
	}
	return err
}

func shareRange(dv *excelize.DataValidation, title string) error {
	dv.SetError(excelize.DataValidationErrorStyleWarning, title, "A share lies between 0 % and 100 %.")
	return dv.SetRange(0, 1, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween)
}

// listRows is the last row of the keys that drop-downs offer; an import of more lets them grow.
const listRows = 5000

func keyList(sheet string, last int) string { return fmt.Sprintf("%s!$A$2:$A$%d", sheet, last) }

// listFor makes a validation a list where the column holds keys of another sheet or a choice; warnings only, so that a
// formula or an own word can still be typed.
func (b *starter) listFor(l *table.Layout, name string, dv *excelize.DataValidation) error {
	keys := map[string]string{"material": "Materials", "machine": "Machines", "parent": "Parts", "child": "Parts"}
	sheet, ok := keys[name]
	switch {
	case name == "part" && slices.Contains([]string{"Operations", "Benchmarks", "Trial values", "Studies"}, l.Sheet):
		sheet, ok = "Parts", true
	case name == gradeHeading && l.Sheet == "Trial values", name == "base_grade": // keys there, not designations
		sheet, ok = "Materials", true
	}
	if table.OfQuotes(l.Sheet) && name == "quote" {
		dv.SetSqrefDropList("Quotes!$D$1:$Z$1")
		dv.SetError(excelize.DataValidationErrorStyleWarning, table.Label(name), "This is no column of the sheet Quotes.")
		return nil
	}
	if ok && sheet != l.Sheet {
		dv.SetSqrefDropList(keyList(sheet, listRows))
		dv.SetError(excelize.DataValidationErrorStyleWarning, table.Label(name), "This key is not in the sheet "+sheet+".")
		return nil
	}
	if name == gradeHeading {
		return b.gradeList(dv)
	}
	words := b.choicesOf(l, name)
	if len(words) == 0 {
		return nil
	}
	if len(strings.Join(words, ",")) > 250 {
		dv.SetSqrefDropList(fmt.Sprintf("'%s'!$A$%d:$A$%d", guideSheet, guideLists+1, guideLists+len(words)))
	} else if err := dv.SetDropList(words); err != nil {
		return err
	}
	dv.SetError(excelize.DataValidationErrorStyleWarning, table.Label(name), "Not one of the listed words.")
	return nil
}

// choicesOf are the words that a column takes; none where it takes any.
func (b *starter) choicesOf(l *table.Layout, name string) (words []string) {
	switch name {
	case "form":
		if l.Sheet == "Parts" {
			words = costmodel.Names(b.lib.Forms)
		}
	case "process":
		if l.Sheet == "Operations" { // elsewhere an own name is meant
			words = costmodel.Names(b.lib.Processes)
		}
	case "tool_kind":
		words = costmodel.Names(b.lib.Tools)
		if l.Sheet == "Operations" {
			words = append([]string{costmodel.ByProcess}, words...)
		}
	case "sized_by":
		words = costmodel.Names(b.lib.Sizes)
	case "coefficient":
		words = b.lib.ToolCoefficients()
		if l.Sheet == "Machine relations" {
			words = costmodel.MachineCoefficients
		}
	case "state":
		if l.Sheet == "Tool relations" || l.Sheet == "Machine relations" {
			words = []string{costmodel.StateFitted, costmodel.StateOwn, costmodel.StateReplaced}
		}
	case "study":
		words = costmodel.QuestionKinds()
	case "direction":
		words = table.Directions
	case "distribution":
		words = table.Distributions
	default:
		if it := b.describe(l, name); it != nil {
			words = it.Options
		}
		if words == nil {
			words = b.quoteChoices(l, name)
		}
	}
	return words
}

// shareRows is dropDowns for sheets on which a row is a quantity: the range holds in all columns of values.
func (b *starter) shareRows(l *table.Layout, head []string, rows [][]string) error {
	for r, row := range rows[1:] {
		if _, unit := rowQuantity(l, head, row); unit != "%" {
			continue
		}
		from, to := valueColumns(head)
		if from == 0 {
			continue
		}
		if err := b.shareCells(l.Sheet, r+2, from, to); err != nil {
			return err
		}
	}
	return nil
}

// shareCells gives cells of a row the range of a share.
func (b *starter) shareCells(sheet string, row, from, to int) error {
	first, err1 := excelize.CoordinatesToCellName(from, row)
	last, err2 := excelize.CoordinatesToCellName(to, row)
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	dv := excelize.NewDataValidation(true)
	dv.SetSqref(first + ":" + last)
	if first == last {
		dv.Sqref = first
	}
	if err := shareRange(dv, "Share"); err != nil {
		return err
	}
	return b.f.AddDataValidation(sheet, dv)
}

// valueColumns are the first and the last column of values of a sheet on which a row is a quantity; 0 where there is none.
func valueColumns(head []string) (first, last int) {
	for c, text := range head {
		if isValueColumn(text) {
			if first == 0 {
				first = c + 1
			}
			last = c + 1
		}
	}
	return first, last
}

// isValueColumn tells the columns of Case, Plants and Scenarios that are things.
func isValueColumn(heading string) bool {
	switch name, _, _ := table.SplitHeading(heading); name {
	case "", "quantity", "unit", "sheet", "row", "column", "source", "date", "owner", "confidence", "note":
		return false
	}
	return true
}

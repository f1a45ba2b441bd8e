package scenarios

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
)

// dropDowns adds lists to columns of keys and choices, and 0 to 100 % to columns of shares.
func (b *starter) dropDowns(l *costmodel.Layout, head []string, rows int) error {
	if l.Shape == costmodel.ColumnsAre {
		return b.shareRows(l, head, rows)
	}
	for c, text := range head {
		name, unit, _ := costmodel.SplitHeading(text)
		col, err := excelize.ColumnNumberToName(c + 1)
		if err != nil {
			return err
		}
		dv := excelize.NewDataValidation(true)
		dv.SetSqref(fmt.Sprintf("%s2:%s%d", col, col, rows+extraRows))
		if unit == "%" {
			err = shareRange(dv, text)
		} else {
			err = b.listFor(l, name, dv)
		}
		if err == nil && dv.Type != "" {
			err = b.f.AddDataValidation(l.Sheet, dv)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func shareRange(dv *excelize.DataValidation, title string) error {
	dv.SetError(excelize.DataValidationErrorStyleWarning, title, "A share lies between 0 % and 100 %.")
	return dv.SetRange(0, 1, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween)
}

// listFor makes a validation a list where the column holds keys of another sheet or a choice; warnings only, so that a
// formula or an own word can still be typed.
func (b *starter) listFor(l *costmodel.Layout, name string, dv *excelize.DataValidation) error {
	keys := map[string]string{"material": "Materials", "machine": "Machines", "parent": "Parts", "child": "Parts"}
	sheet, ok := keys[name]
	if name == "part" && l.Sheet == "Operations" {
		sheet, ok = "Parts", true
	}
	if ok && sheet != l.Sheet {
		dv.SetSqrefDropList(fmt.Sprintf("%s!$A$2:$A$%d", sheet, 5000))
		dv.SetError(excelize.DataValidationErrorStyleWarning, labelOf(name), "This key is not in the sheet "+sheet+".")
		return nil
	}
	var words []string
	switch name {
	case "form":
		if l.Sheet == "Parts" {
			words = costmodel.Names(b.lib.Forms)
		}
	case "process":
		words = costmodel.Names(b.lib.Processes)
	case "study":
		words = costmodel.QuestionKinds()
	case "direction":
		words = costmodel.Directions
	case "distribution":
		words = costmodel.Distributions
	default:
		if it := b.lib.Describe(l.Scope, name); it != nil {
			words = it.Options
		}
	}
	if len(words) == 0 {
		return nil
	}
	if len(strings.Join(words, ",")) > 250 {
		dv.SetSqrefDropList(fmt.Sprintf("'%s'!$A$%d:$A$%d", guideSheet, guideLists+1, guideLists+len(words)))
	} else if err := dv.SetDropList(words); err != nil {
		return err
	}
	dv.SetError(excelize.DataValidationErrorStyleWarning, labelOf(name), "Not one of the listed words.")
	return nil
}

func labelOf(name string) string {
	return strings.ToUpper(name[:1]) + strings.ReplaceAll(name[1:], "_", " ")
}

// shareRows is dropDowns for sheets on which a row is a quantity.
func (b *starter) shareRows(l *costmodel.Layout, head []string, rows int) error {
	unit := indexOf(head, "Unit")
	if unit < 0 {
		return nil
	}
	unitCol, err := excelize.ColumnNumberToName(unit + 1)
	if err != nil {
		return err
	}
	valueCol, err := excelize.ColumnNumberToName(unit + 2)
	if err != nil {
		return err
	}
	for r := 2; r <= rows; r++ {
		text, err := b.f.GetCellValue(l.Sheet, fmt.Sprintf("%s%d", unitCol, r))
		if err != nil {
			return err
		}
		if text != "%" {
			continue
		}
		dv := excelize.NewDataValidation(true)
		dv.SetSqref(fmt.Sprintf("%s%d", valueCol, r))
		if err := shareRange(dv, "Share"); err != nil {
			return err
		}
		if err := b.f.AddDataValidation(l.Sheet, dv); err != nil {
			return err
		}
	}
	return nil
}

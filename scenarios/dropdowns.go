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
		return nil
	}
	for c, text := range head {
		name, unit, _ := costmodel.SplitHeading(text)
		col, err := excelize.ColumnNumberToName(c + 1)
		if err != nil {
			return err
		}
		dv := excelize.NewDataValidation(true)
		dv.SetSqref(fmt.Sprintf("%s2:%s%d", col, col, rows+extraRows))
		switch {
		case unit == "%":
			if err := dv.SetRange(0, 1, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween); err != nil {
				return err
			}
			dv.SetError(excelize.DataValidationErrorStyleWarning, text, "A share lies between 0 % and 100 %.")
		case b.listFor(l, name, dv) != nil:
			return fmt.Errorf("drop-down of %s", text)
		case dv.Type == "":
			continue
		}
		if err := b.f.AddDataValidation(l.Sheet, dv); err != nil {
			return err
		}
	}
	return nil
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

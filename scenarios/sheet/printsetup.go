package sheet

import (
	"fmt"

	"github.com/xuri/excelize/v2"
)

// PrintSetup makes a sheet print on A4, as wide as the page, headings repeated.
func PrintSetup(f *excelize.File, sheet string, landscape bool, headingRows int) error {
	orientation := "portrait"
	if landscape {
		orientation = "landscape"
	}
	one, zero, a4 := 1, 0, 9
	if err := f.SetPageLayout(sheet, &excelize.PageLayoutOptions{Size: &a4, Orientation: &orientation, FitToWidth: &one, FitToHeight: &zero}); err != nil {
		return err
	}
	fit := true
	if err := f.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	if err := f.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddFooter: "&L&F&C&A&R&P / &N"}); err != nil {
		return err
	}
	if headingRows == 0 {
		return nil
	}
	return f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$1:$%d", sheet, headingRows), Scope: sheet})
}

package scenarios

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/quote"
)

// QuestionsWorkbook makes a workbook of the questions to a supplier, with room for his answers and a record of the talks. It holds what the
// questions hold and nothing else: no other sheet, name or property that tells of the model.
func QuestionsWorkbook(q quote.Questions) ([]byte, error) {
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetDocProps(&excelize.DocProperties{Title: "Questions on your quote"}); err != nil {
		return nil, err
	}
	if err := f.SetAppProps(&excelize.AppProperties{}); err != nil {
		return nil, err
	}
	if err := f.SetSheetName("Sheet1", "Questions"); err != nil {
		return nil, err
	}
	rows := [][]string{{"Questions on your quote"}, {"To", orElse(q.Supplier, q.Quote)}, {}, {"What we need for every quote", "", "Your answer"}}
	for i, ask := range q.Base {
		rows = append(rows, []string{fmt.Sprint(i + 1), ask})
	}
	heads := []int{1, 4, len(rows) + 2}
	rows = append(rows, nil, []string{"On your figures", "", "Your answer", "Your figures"})
	for i, own := range q.Own {
		var figures []string
		for _, n := range own.Own {
			figures = append(figures, n.Label+": "+n.Text)
		}
		at := own.Ask
		if own.Line != "" {
			at += " (line " + own.Line + ")"
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), at, "", strings.Join(figures, "\n")})
	}
	if len(q.Agreed) > 0 {
		heads = append(heads, len(rows)+2)
		rows = append(rows, nil, []string{"Agreed", "", "Stated", "Agreed"})
		for _, a := range q.Agreed {
			rows = append(rows, []string{a.Line, a.Text, a.Stated, a.Agreed})
		}
	}
	heads = append(heads, len(rows)+2)
	rows = append(rows, nil, []string{"Record of our talks", "What", "Before", "After"})
	for _, t := range q.Talks {
		rows = append(rows, []string{t.Date, t.What, t.Before, t.After})
	}
	if err := writeTexts(f, "Questions", rows, heads); err != nil {
		return nil, err
	}
	out, err := f.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func orElse(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// writeTexts writes rows of words into a sheet, wrapped, headings bold. Words are never formulas.
func writeTexts(f *excelize.File, sheet string, rows [][]string, heads []int) error {
	wrap, err := f.NewStyle(&excelize.Style{Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return err
	}
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return err
	}
	for c, width := range []float64{16, 60, 34, 44} {
		name, _ := excelize.ColumnNumberToName(c + 1)
		if err := f.SetColWidth(sheet, name, name, width); err != nil {
			return err
		}
	}
	for r, row := range rows {
		style := wrap
		for _, h := range heads {
			if h == r+1 {
				style = bold
			}
		}
		for c, text := range row {
			at, _ := excelize.CoordinatesToCellName(c+1, r+1)
			if err := f.SetCellStr(sheet, at, text); err != nil {
				return err
			}
			if err := f.SetCellStyle(sheet, at, at, style); err != nil {
				return err
			}
		}
	}
	fit := true
	return f.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit})
}

package sheet

import "github.com/xuri/excelize/v2"

// ChartFont is the letters of charts; without a colour the library takes a very light grey.
func ChartFont() excelize.Font { return excelize.Font{Color: inkText, Size: 9, Family: fontName} }

// ChartTitle is the title of a chart.
func ChartTitle(text string) excelize.ChartTitle {
	font := ChartFont()
	font.Bold, font.Size = true, 12
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: text, Font: &font}}}
}

// AxisTitle is the title of an axis: the quantity with its unit.
func AxisTitle(text string) excelize.ChartTitle {
	font := ChartFont()
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: text, Font: &font}}}
}

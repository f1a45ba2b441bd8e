package scenarios

import "github.com/xuri/excelize/v2"

// chartFont is the letters of charts; without a colour the library takes a very light grey.
func chartFont() excelize.Font { return excelize.Font{Color: inkText, Size: 9, Family: fontName} }

func chartTitle(text string) excelize.ChartTitle {
	font := chartFont()
	font.Bold, font.Size = true, 12
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: text, Font: &font}}}
}

func axisTitle(text string) excelize.ChartTitle {
	font := chartFont()
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: text, Font: &font}}}
}

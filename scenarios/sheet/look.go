package sheet

import "github.com/xuri/excelize/v2"

// The look of all sheets that the program makes. Inputs are blue on a pale ground, what is computed is black, links are
// green: the habit of published spreadsheet modelling standards. Every mark has a second sign beside the colour (ground,
// border or words), for print in grey.
const (
	fontName    = "Calibri"
	inkHeading  = "FFFFFF"
	inkInput    = "0033CC"
	inkText     = "1F2933"
	inkLink     = "1E7B34"
	inkFaint    = "5F6B7A"
	fillHeading = "24505F"
	fillInput   = "FFFBEB"
	fillTotal   = "E6EEF0"
	fillBest    = "DDEFD9"
	fillFailed  = "E4E4E4"
	lineColour  = "C9D3D8"
)

// Palette are the colours of series and elements, told apart in grey print too by their order and labels.
var Palette = []string{"24505F", "D98E04", "7A9E3D", "9C3D54", "5B7DB1", "C6AC4B", "3F8E83", "B8683B", "6C5B8C", "8A8F98", "2F6B3A", "A6446E"}

// Looks makes styles in a workbook and remembers them.
type Looks struct {
	File *excelize.File
	made map[Look]int
}

// Look is a style in the words of this package.
type Look struct {
	Kind   string // heading, running heading, input, below, text, number, total, title, faint, best, failed, tint, found
	Format string // number format, "" for General
	Fill   string // ground of a tint
	Wrap   bool
	Right  bool
	Centre bool
}

// NewLooks registers looks as styles of a workbook, each once.
func NewLooks(f *excelize.File) *Looks { return &Looks{File: f, made: map[Look]int{}} }

// ID returns the style number of a look, registered at its first use.
func (l *Looks) ID(k Look) (int, error) {
	if id, ok := l.made[k]; ok {
		return id, nil
	}
	id, err := l.File.NewStyle(k.style())
	if err == nil {
		l.made[k] = id
	}
	return id, err
}

func (k Look) style() *excelize.Style {
	st := &excelize.Style{
		Font:      &excelize.Font{Family: fontName, Size: 10, Color: inkText},
		Alignment: &excelize.Alignment{Vertical: "top", WrapText: k.Wrap},
	}
	if k.Format != "" {
		format := k.Format
		st.CustomNumFmt = &format
	}
	switch {
	case k.Right:
		st.Alignment.Horizontal = "right"
	case k.Centre:
		st.Alignment.Horizontal = "center"
	}
	k.dress(st)
	return st
}

// dress gives a style its font, ground and lines.
func (k Look) dress(st *excelize.Style) {
	line := func(sides ...string) {
		for _, s := range sides {
			st.Border = append(st.Border, excelize.Border{Type: s, Color: lineColour, Style: 1})
		}
	}
	fill := func(colour string) {
		st.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}
	}
	switch k.Kind {
	case "heading", "running heading": // a running heading goes on over the columns to its right
		st.Font.Bold, st.Font.Color = true, inkHeading
		st.Alignment.WrapText = k.Kind == "heading"
		st.Alignment.Vertical = "center"
		fill(fillHeading)
	case "input":
		st.Font.Color = inkInput
		st.Protection = &excelize.Protection{Locked: false}
		fill(fillInput)
		line("bottom", "right")
	case "below": // an input without ground and frame, which would print to the last row
		st.Font.Color = inkInput
		st.Protection = &excelize.Protection{Locked: false}
	case "number":
		line("bottom")
	case "link":
		st.Font.Color = inkLink
		line("bottom")
	case "key":
		st.Font.Color = inkFaint
		line("bottom")
	case "label":
		line("bottom")
	case "found": // what stands in for something that was not stated, or was found by the program: slanted on a pale ground
		st.Font.Italic = true
		fill(fillInput)
		line("bottom")
	case "total":
		st.Font.Bold = true
		fill(fillTotal)
		line("top", "bottom")
	case "best":
		st.Font.Bold = true
		fill(fillBest)
		line("bottom")
	case "failed": // what does not count, said in words beside it
		st.Font.Color, st.Font.Italic = inkFaint, true
		fill(fillFailed)
		line("bottom")
	case "tint":
		st.Font.Bold = true
		if k.Fill != "" {
			fill(k.Fill)
		}
		line("top", "bottom", "left", "right")
	case "title":
		st.Font.Bold, st.Font.Size, st.Font.Color = true, 15, fillHeading
	case "faint":
		st.Font.Color, st.Font.Italic = inkFaint, true
	}
}

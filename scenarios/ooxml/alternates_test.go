package ooxml

import (
	"encoding/xml"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// A node is an element of a part, read by the standard library.
type node struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Nodes   []node     `xml:",any"`
}

func (n *node) attr(name string) string {
	for _, a := range n.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// counted are the children of a node as a program counts them: how it takes an alternative is a choice of its branches.
func (n *node) counted(take func(branches []node) []node) []node {
	var out []node
	for _, c := range n.Nodes {
		if c.XMLName.Local != "AlternateContent" {
			out = append(out, c)
			continue
		}
		for _, b := range take(c.Nodes) {
			out = append(out, b.counted(take)...)
		}
	}
	return out
}

func (n *node) list(name string, take func([]node) []node) []node {
	for _, c := range n.counted(take) {
		if c.XMLName.Local == name {
			return c.counted(take)
		}
	}
	return nil
}

// understandings are the ways in which programs take alternatives: left out, the first Choice, the Fallback (the last
// branch), or every branch.
var understandings = map[string]func([]node) []node{
	"left out": func([]node) []node { return nil },
	"choice":   func(b []node) []node { return b[:1] },
	"fallback": func(b []node) []node { return b[len(b)-1:] },
	"all":      func(b []node) []node { return b },
}

func alternative(choice, fallback string) string {
	return `<mc:AlternateContent><mc:Choice Requires="x14ac">` + choice + `</mc:Choice><mc:Fallback>` + fallback + `</mc:Fallback></mc:AlternateContent>`
}

// alternativeStyles are styles parts with alternatives in their lists, or of lists.
func alternativeStyles() map[string]string {
	font := func(n int) string {
		return fmt.Sprintf(`<font><sz val="%d"/><name val="Arial"/></font>`, n)
	}
	fill, border := `<fill><patternFill patternType="none"/></fill>`, `<border/>`
	xf := func(format int) string {
		return fmt.Sprintf(`<xf numFmtId="%d" fontId="0" fillId="0" borderId="0" xfId="1"/>`, format)
	}
	root := `<styleSheet xmlns="` + mainNS + `" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" ` +
		`xmlns:x14ac="http://schemas.microsoft.com/office/spreadsheetml/2009/9/ac">`
	parents := `<cellStyleXfs>` + alternative(xf(9)+xf(10), xf(9)) + `<xf/><xf/></cellStyleXfs>`
	rest := `<cellStyles><cellStyle name="Normal" xfId="1" builtinId="0"/></cellStyles><dxfs>` + alternative(`<dxf/><dxf/>`, `<dxf/>`) + `</dxfs></styleSheet>`
	formats := `<numFmts>` + alternative(`<numFmt numFmtId="164" formatCode="0.0%"/><numFmt numFmtId="170" formatCode="0.0%"/>`,
		`<numFmt numFmtId="165" formatCode="0"/>`) + `<numFmt numFmtId="164" formatCode="#,##0.0;-#,##0.0;&quot;–&quot;"/></numFmts>`
	return map[string]string{
		"at the end": root + formats + `<fonts>` + font(10) + alternative(font(11)+font(12)+font(13), font(14)) + `</fonts><fills>` + fill +
			alternative(fill+fill, fill) + `</fills><borders>` + border + alternative(border, border+border) + `</borders>` +
			parents + `<cellXfs>` + xf(0) + alternative(xf(9)+xf(10)+xf(9), xf(10)) + `</cellXfs>` + rest,
		"in the middle": root + `<fonts>` + font(10) + alternative(font(11), "") + font(11) + alternative(font(12), font(13)) + font(10) +
			`</fonts><fills>` + fill + `</fills><borders>` + alternative(border, border) + `</borders>` +
			parents + `<cellXfs>` + alternative(xf(9), xf(10)) + xf(0) + alternative(xf(9)+xf(9), xf(10)) + xf(14) + `</cellXfs>` + rest,
		"of lists": root + alternative(`<fonts>`+font(10)+font(11)+font(12)+`</fonts>`, `<fonts>`+font(10)+`</fonts>`) + `<fills>` + fill +
			`</fills><borders>` + border + `</borders><cellXfs>` + xf(0) + `</cellXfs>` + rest,
	}
}

// TestAlternatives: every program finds our fonts and formats under the numbers of our cells, however it takes the
// alternatives of the workbook's styles; a second run adds nothing.
func TestAlternatives(t *testing.T) {
	for name, styles := range alternativeStyles() {
		target := opened(t, `<worksheet><sheetData><row r="1"><c r="A1" s="1"><v>1</v></c></row></sheetData></worksheet>`, "xl/styles.xml", styles)
		data, err := putInto(target, ourSheets(t, "Result of test"))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		checkOurStyles(t, name, data)
		again, err := putInto(openBytes(t, data), ourSheets(t, "Result of test"))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		checkOurStyles(t, name+", a second run", again)
		if a, b := partBytes(t, data)["xl/styles.xml"], partBytes(t, again)["xl/styles.xml"]; a != b && name != "of lists" {
			t.Errorf("%s: a second run changes the styles from\n%s to\n%s", name, a, b)
		}
	}
}

// checkOurStyles looks at the formatted cells of the sheet of ours as each kind of program does.
func checkOurStyles(t *testing.T, name string, data []byte) {
	t.Helper()
	p := openBytes(t, data)
	g, err := p.Read(&p.Sheets[1])
	if err != nil {
		t.Fatal(err)
	}
	var part node
	if err := xml.Unmarshal([]byte(partBytes(t, data)["xl/styles.xml"]), &part); err != nil {
		t.Fatal(err)
	}
	for who, take := range understandings {
		if name, _, _ := strings.Cut(name, ","); name == "of lists" && (who == "left out" || who == "all") {
			continue // a program that sees no list of fonts, or two, has none for the workbook's own cells either
		}
		cells := 0
		for _, c := range g.Cells {
			if c.Row == 2 {
				continue
			}
			cells++
			xfs, fonts := part.list("cellXfs", take), part.list("fonts", take)
			if c.Style >= len(xfs) {
				t.Fatalf("%s, %s: the style %d of row %d is none of %d", name, who, c.Style, c.Row, len(xfs))
			}
			xf := xfs[c.Style]
			var font int
			fmt.Sscan(xf.attr("fontId"), &font)
			code := ""
			for _, f := range part.list("numFmts", take) {
				if f.attr("numFmtId") == xf.attr("numFmtId") {
					code = f.attr("formatCode")
				}
			}
			if code != `#,##0.0;-#,##0.0;"–"` || font >= len(fonts) || !isOurFont(&fonts[font]) {
				t.Errorf("%s, %s: row %d has the format %q and the font %d of %+v", name, who, c.Row, code, font, fonts)
			}
			if parent := xf.attr("xfId"); parent != "1" && name != "of lists" && !strings.HasPrefix(name, "of lists,") {
				t.Errorf("%s, %s: row %d has the parent style %q", name, who, c.Row, parent)
			}
		}
		if cells != 3 {
			t.Errorf("%s: %d cells", name, cells)
		}
	}
}

func isOurFont(font *node) bool {
	for _, c := range font.Nodes {
		if c.XMLName.Local == "color" && strings.HasSuffix(c.attr("rgb"), "24505F") {
			return true
		}
	}
	return false
}

// TestAlternativesRead: of alternatives the branch is read that is understood; lists beside cellXfs count for nothing.
func TestAlternativesRead(t *testing.T) {
	for _, c := range []struct {
		requires string
		want     []Style
	}{
		{"x14ac", []Style{{}, {Percent: true}, {Percent: true}, {Date: true}}},
		{"x14ac zz", []Style{{}, {}, {Date: true}}},
		{"zz", []Style{{}, {}, {Date: true}}},
		{"undeclared", []Style{{}, {}, {Date: true}}},
	} {
		styles := `<styleSheet xmlns:x14ac="http://schemas.microsoft.com/office/spreadsheetml/2009/9/ac" xmlns:zz="urn:zz" ` +
			`xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"><numFmts><mc:AlternateContent><mc:Choice Requires="zz"><numFmt ` +
			`numFmtId="170" formatCode="yyyy"/></mc:Choice><mc:Fallback><numFmt numFmtId="170" ` +
			`formatCode="0%"/></mc:Fallback></mc:AlternateContent></numFmts><cellXfs><xf/>` +
			`<mc:AlternateContent><mc:Choice Requires="` + c.requires +
			`"><xf numFmtId="170"/><xf numFmtId="9"/></mc:Choice><mc:Fallback><xf numFmtId="0"/></mc:Fallback></mc:AlternateContent><xf ` +
			`numFmtId="14"/></cellXfs></styleSheet>`
		p := opened(t, plainSheet, "xl/styles.xml", styles)
		if len(p.styles) != len(c.want) || p.CellStyles() != len(c.want) {
			t.Errorf("%s: styles %+v, want %+v", c.requires, p.styles, c.want)
			continue
		}
		for i, w := range c.want {
			if p.Style(i) != w {
				t.Errorf("%s: style %d is %+v, want %+v", c.requires, i, p.Style(i), w)
			}
		}
	}
}

// TestPutWithoutStyles: a workbook without styles gets ours under the usual name.
func TestPutWithoutStyles(t *testing.T) {
	data, err := putInto(opened(t, plainSheet, "xl/styles.xml", absent), ourSheets(t, "Result of test"))
	if err != nil {
		t.Fatal(err)
	}
	parts := partBytes(t, data)
	if !strings.Contains(parts["xl/styles.xml"], `name="Normal"`) || !strings.Contains(parts["xl/_rels/workbook.xml.rels"], `Target="/xl/styles.xml"`) {
		t.Errorf("styles: %s\nrelations: %s", parts["xl/styles.xml"], parts["xl/_rels/workbook.xml.rels"])
	}
}

// ourFormat tells, by the library, what a cell of ours is shown as.
func ourFormat(t *testing.T, f *excelize.File, sheet, cell string) string {
	t.Helper()
	id, err := f.GetCellStyle(sheet, cell)
	if err != nil {
		return err.Error()
	}
	style, err := f.GetStyle(id)
	if err != nil || style.CustomNumFmt == nil || style.Font == nil {
		return fmt.Sprintf("style %d: %+v, %v", id, style, err)
	}
	shown, err := f.GetCellValue(sheet, cell)
	return fmt.Sprintf("%s as %s, bold %v, %s, %v", shown, *style.CustomNumFmt, style.Font.Bold, style.Font.Color, err)
}

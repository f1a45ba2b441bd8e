package ooxml

import (
	"fmt"
	"strings"
	"testing"
)

// listing writes cells on a line each: A1 n "value" =formula, and no value where none is stored.
func listing(cells []Cell) string {
	var b strings.Builder
	for _, c := range cells {
		fmt.Fprintf(&b, "%s%d", columnName(c.Col), c.Row)
		if c.HasValue {
			fmt.Fprintf(&b, " %c %q", c.Type, c.Value)
		}
		if c.Formula != "" {
			b.WriteString(" =" + c.Formula)
		}
		if c.Style != 0 {
			fmt.Fprintf(&b, " style %d", c.Style)
		}
		b.WriteString("\n")
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// readRows reads a sheet of those rows.
func readRows(t testing.TB, rows string) (*Grid, error) {
	t.Helper()
	p := opened(t, "<worksheet><sheetData>"+rows+"</sheetData></worksheet>")
	return p.Read(&p.Sheets[0])
}

// TestCells: the kinds of cell of ECMA-376 part 1, 18.3.1.4 and 18.18.11, and forms that programs write them in.
func TestCells(t *testing.T) {
	for _, c := range []struct{ name, rows, want string }{
		{"a number keeps its digits", `<row r="2"><c r="B2" s="1"><v>0.10000000000000000555</v></c></row>`, `B2 n "0.10000000000000000555" style 1`},
		{"an exponent", `<row r="1"><c r="A1" t="n"><v>1.5E-07</v></c></row>`, `A1 n "1.5E-07"`},
		{"shared texts", `<row r="1"><c r="A1" t="s"><v>1</v></c><c r="B1" t="s"><v>0</v></c></row>`, "A1 s \"one\"\nB1 s \"zero\""},
		{"an inline text", `<row r="1"><c r="A1" t="inlineStr"><is><t xml:space="preserve"> a &amp; b </t></is></c></row>`, `A1 s " a & b "`},
		{"an inline rich text with phonetic help", `<row r="1"><c r="A1" t="inlineStr"><is><r><t>課</t></r><r><t>長</t></r><rPh sb="0" ` +
			`eb="1"><t>カ</t></rPh></is></c></row>`, `A1 s "課長"`},
		{"an empty inline text", `<row r="1"><c r="A1" t="inlineStr"><is><t/></is></c><c r="B1" t="inlineStr"><is/></c></row>`, `A1 s ""`},
		{"an inline text in v", `<row r="1"><c r="A1" t="inlineStr"><v>x</v></c></row>`, `A1 s "x"`},
		{"an escaped text", `<row r="1"><c r="A1" t="str"><v>a_x000D_b</v></c></row>`, `A1 s "a\rb"`},
		{"flags", `<row r="1"><c r="A1" t="b"><v>1</v></c><c r="B1" t="b"><v>0</v></c></row>`, "A1 b \"1\"\nB1 b \"0\""},
		{"an error", `<row r="1"><c r="A1" t="e"><f>1/0</f><v>#DIV/0!</v></c></row>`, `A1 e "#DIV/0!" =1/0`},
		{"a date", `<row r="1"><c r="A1" t="d"><v>2031-05-07T00:00:00Z</v></c></row>`, `A1 d "2031-05-07T00:00:00Z"`},
		{"layout around values", "<row r=\"1\"><c r=\"A1\">\n <v>\n 5 </v>\n</c><c r=\"B1\" t=\"s\"><v> 1 </v></c><c r=\"C1\" t=\"str\"><v> x " +
			"</v></c></row>", "A1 n \"5\"\nB1 s \"one\"\nC1 s \" x \""},
		{"a comment and CDATA in a value", `<row r="1"><c r="A1"><v>1<!-- 2 -->3<![CDATA[4]]></v></c></row>`, `A1 n "134"`},
		{"only a format", `<row r="1"><c r="A1" s="1"/><c r="B1" s="1"></c><c r="C1"><v></v></c><c r="D1"><v/></c></row>`, ``},
		{"an empty text", `<row r="1"><c r="A1" t="str"><v></v></c><c r="B1" t="s"><v/></c></row>`, "A1 s \"\"\nB1 s \"\""},
		// results of formulas
		{"a number's formula", `<row r="1"><c r="A1"><f>1+1</f><v>2</v></c></row>`, `A1 n "2" =1+1`},
		{"a formula with entities", `<row r="1"><c r="A1" t="str"><f>"a"&amp;IF(1&lt;2,"&gt;","")</f><v>a&gt;</v></c></row>`, `A1 s "a>" ="a"&IF(1<2,">","")`},
		{"a formula with an empty text as result", `<row r="1"><c r="A1" t="str"><f>""</f><v></v></c><c r="B1" t="str"><f>""</f><v/></c></row>`,
			"A1 s \"\" =\"\"\nB1 s \"\" =\"\""},
		{"a formula without result", `<row r="1"><c r="A1"><f>1+1</f></c><c r="B1"><f>1+1</f><v></v></c><c r="C1" t="str"><f>1+1</f></c></row>`,
			"A1 =1+1\nB1 =1+1\nC1 =1+1"},
		{"a formula of an array", `<row r="1"><c r="A1"><f t="array" ref="A1:A2">B1:B2*2</f><v>2</v></c></row><row r="2"><c r="A2"><v>4</v></c></row>`,
			"A1 n \"2\" =B1:B2*2\nA2 n \"4\""},
		{"an empty formula", `<row r="1"><c r="A1"><f/></c><c r="B1"><f></f><v>1</v></c></row>`, `B1 n "1"`},
		// places
		{"no names of cells", `<row r="3"><c><v>1</v></c><c/><c><v>2</v></c></row>`, "A3 n \"1\"\nC3 n \"2\""},
		{"no names of rows and cells", `<row><c><v>1</v></c></row><row/><row><c><v>2</v></c></row>`, "A1 n \"1\"\nA3 n \"2\""},
		{"some names of cells", `<row r="2"><c r="C2"><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c></row>`, "C2 n \"1\"\nD2 n \"2\"\nA3 n \"3\""},
		{"the last cell", `<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>`, `XFD1048576 n "1"`},
		{"a declared prefix that is called r", `<row r="2"><c xmlns:r="u" r="B2" xmlns:t="u" xmlns:s="u"><v>1</v></c></row>`, `B2 n "1"`},
		{"prefixed elements", `<x:row r="1"><x:c r="A1"><x:f>A2</x:f><x:v>1</x:v></x:c></x:row>`, `A1 n "1" =A2`},
		{"elements that are not known", `<row r="1"><c r="A1"><v>1</v><extLst><ext><x>9</x></ext></extLst></c></row>`, `A1 n "1"`},
	} {
		g, err := readRows(t, c.rows)
		if err != nil || listing(g.Cells) != c.want {
			t.Errorf("%s: got\n%s\n%v, want\n%s", c.name, listing(g.Cells), err, c.want)
		}
	}
}

// TestSharedFormulas: ECMA-376 part 1, 18.3.1.40; the cell with a range gives the text for all cells of its number.
func TestSharedFormulas(t *testing.T) {
	cell := func(ref, f string) string { return `<c r="` + ref + `">` + f + `</c>` }
	for _, c := range []struct{ name, rows, want string }{
		{"down and right", cell("B2", `<f t="shared" ref="B2:C3" si="0">A1*$D$1</f><v>1</v>`) + cell("C3", `<f t="shared" si="0"/><v>2</v>`),
			"B2 n \"1\" =A1*$D$1\nC3 n \"2\" =B2*$D$1"},
		{"left and up", cell("B2", `<f t="shared" ref="A1:B2" si="0">C3</f>`) + cell("A1", `<f t="shared" si="0"></f>`), "B2 =C3\nA1 =B2"},
		{"two numbers", cell("A1", `<f t="shared" ref="A1:A2" si="0">B1</f>`) + cell("C1", `<f t="shared" ref="C1:C2" si="1">D1</f>`) + cell("A2",
			`<f t="shared" si="0"/>`) + cell("C2", `<f t="shared" si="1"/>`), "A1 =B1\nC1 =D1\nA2 =B2\nC2 =D2"},
		{"a number used again", cell("A1", `<f t="shared" ref="A1:A2" si="0">B1</f>`) + cell("A2", `<f t="shared" si="0"/>`) + cell("A3",
			`<f t="shared" ref="A3:A4" si="0">C1</f>`) + cell("A4", `<f t="shared" si="0"/>`), "A1 =B1\nA2 =B2\nA3 =C1\nA4 =C2"},
		{"a text repeated by a member is not shifted again", cell("A1", `<f t="shared" ref="A1:A3" si="0">B1</f>`) + cell("A2",
			`<f t="shared" si="0">B1</f>`) + cell("A3", `<f t="shared" si="0"/>`), "A1 =B1\nA2 =B2\nA3 =B3"},
		{"the text comes without a range", cell("A1", `<f t="shared" si="0">B1</f>`) + cell("A2", `<f t="shared" si="0"/>`), "A1 =B1\nA2 =B2"},
		{"the text comes last", cell("A1", `<f t="shared" si="0"/><v>1</v>`) + cell("A2", `<f t="shared" si="0"/>`) + cell("A3",
			`<f t="shared" ref="A1:A3" si="0">B3</f>`), "A1 n \"1\" =B1\nA2 =B2\nA3 =B3"},
		{"no text at all", cell("A1", `<f t="shared" si="0"/><v>1</v>`) + cell("A2", `<f t="shared" si="0"/>`) + cell("A3", `<v>3</v>`),
			"A1 n \"1\"\nA3 n \"3\""},
		{"leaving the sheet", cell("A2", `<f t="shared" ref="A1:A2" si="0">A1</f>`) + cell("A1", `<f t="shared" si="0"/>`), "A2 =A1\nA1 =#REF!"},
	} {
		g, err := readRows(t, "<row>"+c.rows+"</row>")
		if err != nil || listing(g.Cells) != c.want {
			t.Errorf("%s: got\n%s\n%v, want\n%s", c.name, listing(g.Cells), err, c.want)
		}
	}
}

func TestMerged(t *testing.T) {
	p := opened(t, `<worksheet><sheetData/><mergeCells count="2"><mergeCell ref="A1:C1"/><mergeCell/><mergeCell ref="B3:B9"/></mergeCells></worksheet>`)
	g, err := p.Read(&p.Sheets[0])
	if err != nil || len(g.Cells) != 0 || strings.Join(g.Merged, " ") != "A1:C1 B3:B9" {
		t.Errorf("%+v, %v", g, err)
	}
}

// TestBrokenSheets: a sheet of which a cell would be lost or misplaced is refused as a whole.
func TestBrokenSheets(t *testing.T) {
	sheet := func(rows string) string { return "<worksheet><sheetData>" + rows + "</sheetData></worksheet>" }
	for _, c := range []struct{ name, part, want string }{
		{"left of the sheet", sheet(`<row r="0"><c/></row>`), "the sheet Plan is broken: a cell at row 0, column 1"},
		{"below the sheet", sheet(`<row><c r="A1048577"/></row>`), "the sheet Plan is broken: a cell at row 1048577, column 1"},
		{"right of the sheet", sheet(`<row><c r="XFE1"/></row>`), "the sheet Plan is broken: a cell at row 1, column 16385"},
		{"after the last column", sheet(`<row><c r="XFD1"/><c/></row>`), "the sheet Plan is broken: a cell at row 1, column 16385"},
		{"after the last row", sheet(`<row r="1048576"/><row><c/></row>`), "the sheet Plan is broken: a cell at row 1048577, column 1"},
		{"no cell's name", sheet(`<row><c r="1A"/></row>`), `the sheet Plan is broken: a cell is called "1A"`},
		{"a long name", sheet(`<row><c r="` + strings.Repeat("A", 1000) + `"/></row>`), `the sheet Plan is broken: a cell is called "AAAAAAAAAAAAAAAAAAAA"`},
		{"a shared text too far", sheet(`<row r="7"><c r="AB7" t="s"><v>2</v></c></row>`), `the sheet Plan is broken: cell AB7 wants the shared text "2" of 2`},
		{"a shared text of no number", sheet(`<row><c t="s"><v>x</v></c></row>`), `the sheet Plan is broken: cell A1 wants the shared text "x" of 2`},
		{"a negative one", sheet(`<row><c t="s"><v>-1</v></c></row>`), `the sheet Plan is broken: cell A1 wants the shared text "-1" of 2`},
		{"a document type", `<!DOCTYPE w [<!ENTITY a "b">]>` + plainSheet, "the sheet Plan is broken: it holds a document type, which no workbook needs"},
		{"cut in a value", sheet(`<row><c><v>1`)[:35], "the sheet Plan is broken: it ends in the middle of a tag"},
		{"cut between rows", `<worksheet><sheetData><row><c><v>1</v></c></row>`, "the sheet Plan is broken: its tags do not match"},
		{"empty", "", "the sheet Plan is broken: it is empty"},
		{"lost", absent, "the part xl/worksheets/sheet1.xml is missing"},
		{"in another encoding", "<worksheet>\xE4</worksheet>", "the part xl/worksheets/sheet1.xml is neither UTF-8 nor UTF-16"},
	} {
		p, err := openParts(t, c.part)
		if err != nil {
			t.Fatal(c.name, err)
		}
		g, err := p.Read(&p.Sheets[0])
		checkError(t, c.name, err, c.want)
		if g != nil {
			t.Errorf("%s: cells come with the error", c.name)
		}
	}
}

// TestAnySharedNumber: programs number shared formulas as they like; the number is only a name.
func TestAnySharedNumber(t *testing.T) {
	g, err := readRows(t, `<row><c><f t="shared" ref="A1:B1" si="4294967295">C1</f></c><c><f si="4294967295" t="shared"/></c></row>`)
	if err != nil || listing(g.Cells) != "A1 =C1\nB1 =D1" {
		t.Errorf("%s, %v", listing(g.Cells), err)
	}
}

package ooxml

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
	"testing"
)

const tooMuch = "it takes more than 448 MB of memory to read"

// together are bombs of several things that are allowed alone.
var together = []bomb{
	{"3 million shared texts and as many cells", "", func(t testing.TB) []byte {
		return textsAndCells(t, "12345678", 3_000_000, 3_000_000)
	}},
	{"190 MB of shared texts and 2.8 million cells", tooMuch, func(t testing.TB) []byte {
		return textsAndCells(t, strings.Repeat("x", 65), 2_400_000, 2_800_000)
	}},
	{"190 MB of shared texts and a sheet of 190 MB", "", func(t testing.TB) []byte {
		return packageOf(t, "<worksheet>"+strings.Repeat(" ", 190<<20)+"</worksheet>", "xl/sharedStrings.xml",
			"<sst>"+strings.Repeat("<si><t>"+strings.Repeat("x", 70)+"</t></si>", 2_300_000)+"</sst>")
	}},
	{"a sheet of 190 MB in texts of its own", "", func(t testing.TB) []byte {
		return ofSheet(t, "<worksheet>", `<row><c t="inlineStr"><is><t>`+strings.Repeat("x", 900)+"</t></is></c></row>", 200_000, "</worksheet>")
	}},
	{"190 MB in texts of entities", "", func(t testing.TB) []byte {
		return ofSheet(t, "<worksheet>", `<row><c t="str"><v>_x0041_`+strings.Repeat("&amp;", 180)+"</v></c></row>", 200_000, "</worksheet>")
	}},
	{"3 million numbers of 17 digits", "", func(t testing.TB) []byte {
		return ofSheet(t, "<worksheet>", "<row><c><v>0.12345678901234567</v></c><c><v>0.12345678901234567</v></c><c><v>0.12345678901234567</v></c></row>",
			1_000_000, "</worksheet>")
	}},
	{"3 million cells of shared formulas without a text", tooMuch, func(t testing.TB) []byte {
		return ofSheet(t, "<worksheet>", `<row><c><f t="shared" si="0"/></c><c><f t="shared" si="0"/></c><c><f t="shared" si="0"/></c></row>`, 1_000_000,
			"</worksheet>")
	}},
	{"a million numbers of shared formulas", "", func(t testing.TB) []byte {
		var b strings.Builder
		for i := range 1_000_000 {
			fmt.Fprintf(&b, `<row><c><f t="shared" ref="A1" si="%d">1</f></c></row>`, i)
		}
		return ofSheet(t, "<worksheet>", b.String(), 1, "</worksheet>")
	}},
	{"more merged ranges than allowed", "the sheet Plan is broken: it has more than 1048576 merged ranges", func(t testing.TB) []byte {
		return ofSheet(t, "<worksheet>", `<mergeCell ref="A1:B2"/>`, maxMerged+1, "</worksheet>")
	}},
	{"a million array formulas over whole rows", "the sheet Plan is broken: its array formulas take more than 67108864 columns", func(t testing.TB) []byte {
		return ofSheet(t, "<worksheet>", `<row><c><f t="array" ref="A1:XFD1048576">1</f></c></row>`, 1_000_000, "</worksheet>")
	}},
	{"190 MB of UTF-16", "the part xl/worksheets/sheet1.xml unpacks to 190 MB of UTF-16, more than 32 MB", func(t testing.TB) []byte {
		return packageOf(t, "\xFF\xFE"+strings.Repeat("\x08\x20", 95<<20))
	}},
	{"32 MB of UTF-16", "", func(t testing.TB) []byte {
		return packageOf(t, "\xFF\xFE"+utf16Bytes(`<worksheet><row><c t="str"><v>`+strings.Repeat("\u2008", 5<<20)+"</v></c></row></worksheet>", 0, 1))
	}},
	{"a million parts", "its list of parts is longer than 16 MB", manyEntries},
	{"shared texts nested a million deep", "", func(t testing.TB) []byte {
		return ofPart(t, "xl/sharedStrings.xml", "<sst><si>"+strings.Repeat("<r>", 1_000_000), "</r>", 1_000_000, "</si></sst>")
	}},
}

// textsAndCells has a list of shared texts and cells that show the second.
func textsAndCells(t testing.TB, text string, texts, cells int) []byte {
	return packageOf(t, "<worksheet>"+strings.Repeat("<row>"+strings.Repeat(`<c t="s"><v>1</v></c>`, 10)+"</row>", cells/10)+"</worksheet>",
		"xl/sharedStrings.xml", "<sst>"+strings.Repeat("<si><t>"+text+"</t></si>", texts)+"</sst>")
}

// manyEntries is a zip of a million empty entries.
func manyEntries(t testing.TB) []byte {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i := range 1_000_000 {
		if _, err := z.CreateRaw(&zip.FileHeader{Name: fmt.Sprintf("%07d", i)}); err != nil {
			t.Fatal(err)
		}
	}
	z.Close()
	return out.Bytes()
}

// TestMemoryIsGivenBack: reading a sheet again does not count it twice.
func TestMemoryIsGivenBack(t *testing.T) {
	p := opened(t, "<worksheet>"+strings.Repeat("<row><c><v>1</v></c></row>", 1000)+"</worksheet>")
	before := p.used()
	for range 3 {
		if _, err := p.Read(&p.Sheets[0]); err != nil {
			t.Fatal(err)
		}
		if taken := p.used() - before; taken < 64_000 || taken > 100_000 {
			t.Errorf("1,000 cells take %d bytes", taken)
		}
	}
}

// TestFilledByArrays: what an array formula or a data table fills from another cell is no input (ECMA-376 part 1,
// 18.3.1.40).
func TestFilledByArrays(t *testing.T) {
	p := opened(t, `<worksheet>
<row r="1"><c r="B1"><v>1</v></c></row>
<row r="2"><c r="A2"><v>2</v></c><c r="B2"><f t="array" ref="B2:C3">TRANSPOSE(E1:F2)</f><v>3</v></c><c r="C2"><v>4</v></c><c r="D2"><v>5</v></c></row>
<row r="3"><c r="B3" t="str"><v>x</v></c><c r="C3"/><c r="D3"><v>6</v></c></row>
<row r="4"><c r="B4"><v>7</v></c><c r="E4"><f t="array" ref="E4">1</f><v>8</v></c><c r="F4"><f t="dataTable" ref="F4:F5" r1="A1"/><v>9</v></c></row>
<row r="5"><c r="F5"><v>10</v></c><c r="E5"><v>11</v></c><c r="F6"><v>12</v></c></row></worksheet>`)
	g, err := p.Read(&p.Sheets[0])
	if err != nil {
		t.Fatal(err)
	}
	var filled []string
	for _, c := range g.Cells {
		if c.Filled {
			filled = append(filled, fmt.Sprintf("%s%d=%s", columnName(c.Col), c.Row, c.Value))
		}
	}
	if got := strings.Join(filled, " "); got != "C2=4 B3=x F4=9 F5=10" {
		t.Errorf("filled by a formula elsewhere: %s", got)
	}
}

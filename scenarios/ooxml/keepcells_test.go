package ooxml

import (
	"strings"
	"testing"
)

// TestWithCells puts cells before, between, over and behind those of a sheet, into rows that are there and that are not.
func TestWithCells(t *testing.T) {
	sheet := `<worksheet><sheetData><row r="2"><c r="B2" s="1"><v>1</v></c><c r="D2" s="2"/></row><row r="4"/></sheetData></worksheet>`
	text := func(row, col int, v string) Cell {
		return Cell{Row: row, Col: col, Style: 7, Type: Text, Value: v, HasValue: true}
	}
	got, err := withCells([]byte(sheet), []Cell{
		text(9, 1, "last"), text(2, 1, "first"), text(2, 3, "between"), text(2, 4, "over"), text(2, 6, "behind"), text(1, 2, "above"),
		text(4, 2, "into an empty row"),
		{Row: 3, Col: 1, Type: Number, Value: "1.50", HasValue: true}, {Row: 3, Col: 2, Type: Flag, Value: "1", HasValue: true},
		{Row: 3, Col: 3, Formula: `A1&"<"`, Type: Text, Value: "old", HasValue: true},
	})
	if err != nil {
		t.Fatal(err)
	}
	in := func(s string) string {
		return ` s="7" t="inlineStr"><is><t xml:space="preserve">` + s + `</t></is></c>`
	}
	want := `<worksheet><sheetData><row r="1"><c r="B1"` + in("above") + `</row>` +
		`<row r="2"><c r="A2"` + in("first") + `<c r="B2" s="1"><v>1</v></c><c r="C2"` + in("between") + `<c r="D2"` + in("over") + `<c r="F2"` +
		in("behind") + `</row>` +
		`<row r="3"><c r="A3" s="0"><v>1.50</v></c><c r="B3" s="0" t="b"><v>1</v></c><c r="C3" s="0"><f>A1&amp;&quot;&lt;&quot;</f></c></row>` +
		`<row r="4"><c r="B4"` + in("into an empty row") + `</row><row r="9"><c r="A9"` + in("last") + `</row></sheetData></worksheet>`
	if string(got) != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// TestStoredText: what is written reads back, whatever the text.
func TestStoredText(t *testing.T) {
	for _, s := range []string{"plain", " blanks ", "a\nb\tc", "_x0041_", "bell \x07 cr \r", `<&">`, "_x005F_x0041_", "ü – 中"} {
		stored := storedText(s)
		if strings.ContainsAny(stored, "\x07\r") {
			t.Errorf("%q is stored as %q", s, stored)
		}
		sheet := `<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t xml:space="preserve">` + stored +
			`</t></is></c></row></sheetData></worksheet>`
		g, err := (&Package{}).scanSheet([]byte(sheet))
		if err != nil || len(g.Cells) != 1 || g.Cells[0].Value != s {
			t.Errorf("%q reads back as %+v, %v", s, g, err)
		}
	}
}

package table

import (
	"slices"
	"testing"
)

// TestHeadings holds what a heading is read as: name, unit, and whether a unit stood there.
func TestHeadings(t *testing.T) {
	for _, c := range []struct {
		heading, name, unit string
		found               bool
	}{
		{"Gauge [mm]", "gauge", "mm", true},
		{"  Load and process   time [s] ", "load_and_process_time", "s", true},
		{"Batches [1/yr]", "batches", "1/yr", true},
		{"Name", "name", "", false},
		{"Gauge [mm", "gauge", "", false}, // not closed: the name is meant all the same
		{"[mm]", "", "mm", true},
		{"SG&A share [%]", "sg&a_share", "%", true},
		{"Größe [mm]", "größe", "mm", true},
		{"", "", "", false},
	} {
		name, unit, found := SplitHeading(c.heading)
		if name != c.name || unit != c.unit || found != c.found {
			t.Errorf("%q is %q, %q, %v; want %q, %q, %v", c.heading, name, unit, found, c.name, c.unit, c.found)
		}
	}
}

// TestNormalise holds names as they stand, and what is no name as it becomes one.
func TestNormalise(t *testing.T) {
	for text, want := range map[string]string{
		"gauge": "gauge", "tool_set_2": "tool_set_2", "sg&a": "sg&a", "a__b": "a_b", "_a": "a", "a_": "a", "_": "", "": "", "Gauge": "gauge",
		"a b": "a_b", " a ": "a", "größe": "größe", "Größe_": "größe", "a-b (c)": "a_b_c", "a\x7fb": "a_b", "a\xffb": "a\ufffdb", "A&B": "a&b",
	} {
		if got := Normalise(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
		if got := Normalise(want); got != want {
			t.Errorf("the name %q becomes %q", want, got)
		}
	}
}

// TestLabelsAreReadBack holds that a name written as a heading is read as that name.
func TestLabelsAreReadBack(t *testing.T) {
	for _, l := range Layouts {
		for _, name := range slices.Concat(l.Key, l.Texts, l.Columns, Provenance) {
			if got := Normalise(Label(name)); got != name {
				t.Errorf("%s is written %q and read %q", name, Label(name), got)
			}
		}
	}
}

// TestPlaces holds how places are written; the names of columns are those of spreadsheet programs (common practice, no
// source), whose last column is XFD, the 16,384th.
func TestPlaces(t *testing.T) {
	for col, want := range map[int]string{1: "A", 26: "Z", 27: "AA", 52: "AZ", 53: "BA", 702: "ZZ", 703: "AAA", 16384: "XFD", 0: ""} {
		if got := ColumnName(col); got != want {
			t.Errorf("column %d is %q, want %q", col, got, want)
		}
	}
	for want, p := range map[string]Place{
		"tray.xlsx Parts!F12":   {File: "tray.xlsx", Sheet: "Parts", Row: 12, Col: 6},
		"tray.xlsx Parts!F12:7": {File: "tray.xlsx", Sheet: "Parts", Row: 12, Col: 6, Char: 7},
		"tray.xlsx Parts":       {File: "tray.xlsx", Sheet: "Parts"},
		"tray.xlsx":             {File: "tray.xlsx"},
		"Parts!F12":             {Sheet: "Parts", Row: 12, Col: 6},
	} {
		if got := p.String(); got != want {
			t.Errorf("%#v is written %q, want %q", p, got, want)
		}
	}
}

// TestOrderOfFindings holds that errors come before warnings and notes, each in the order of sheets, rows and columns, once.
func TestOrderOfFindings(t *testing.T) {
	at := func(sheet string, row, col int) Place { return Place{Sheet: sheet, Row: row, Col: col} }
	ds := Diagnostics{
		{Code: "n", Severity: Note, Place: at("Case", 2, 1)},
		{Code: "w", Severity: Warning, Place: at("Parts", 3, 2)},
		{Code: "e", Severity: Error, Place: at("Operations", 2, 1)},
		{Code: "e", Severity: Error, Place: at("own sheet", 1, 1)},
		{Code: "e", Severity: Error, Place: at("Parts", 10, 1)},
		{Code: "e", Severity: Error, Place: at("Parts", 9, 4)},
		{Code: "e", Severity: Error, Place: at("Parts", 9, 3)},
		{Code: "e", Severity: Error, Place: at("Parts", 9, 3), Scenario: "the same in another"},
	}
	var got []string
	for _, d := range ds.Sorted() {
		got = append(got, d.Code+" "+d.Place.String())
	}
	want := []string{"e Parts!C9", "e Parts!D9", "e Parts!A10", "e Operations!A2", "e own sheet!A1", "w Parts!B3", "n Case!A2"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

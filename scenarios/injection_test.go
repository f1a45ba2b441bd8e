package scenarios

import (
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/scenarios/ooxml"
	"piececost/templates"
)

// The words of a small case that a user chooses: as they might be, and as texts that a spreadsheet program would compute
// were they typed, or read as an escaped character (ECMA-376 part 1, 22.9.2.19).
var (
	plainWords = plateWords{part: "PLATE", partName: "mounting plate", material: "STEEL", machine: "PRESS", scenario: "Today", title: "plates",
		claim: "a claim", note: "a note", source: "a quote", step: "blanking"}
	wildWords = plateWords{part: "=1+1", partName: `=HYPERLINK("x","y")`, material: "-S1", machine: "+M1", scenario: "@SUM(A1)", title: "=cmd|' /C x'!A0",
		claim: "+40/100", note: "_x0041_", source: "@2", step: "=2*3"}
)

type plateWords struct{ part, partName, material, machine, scenario, title, claim, note, source, step string }

// typedText is a text as a spreadsheet program stores it, which the library does not.
func typedText(v any) any {
	if s, ok := v.(string); ok {
		return strings.ReplaceAll(s, "_x", "_x005F_x")
	}
	return v
}

func (w plateWords) all() []string {
	return []string{w.part, w.partName, w.material, w.machine, w.scenario, w.title, w.claim, w.note, w.source, w.step}
}

// plateCells are the inputs of a plate stamped on one press.
func plateCells(w plateWords) map[string]any {
	return map[string]any{
		"Case!C2": w.title, "Case!C3": w.claim, "Case!E3": w.note, "Case!C7": 5, "Case!C8": 0.08,
		"Plants!C2": 230, "Plants!C3": 2, "Plants!C4": 8, "Plants!C7": 35, "Plants!C10": 0.16, "Plants!C14": 0.8, "Plants!D7": w.source, "Plants!E7": w.note,
		"Materials!A2": w.material, "Materials!B2": "steel", "Materials!D2": 7850, "Materials!E2": 0.95, "Materials!G2": 0.25, "Materials!I2": w.source,
		"Machines!A2": w.machine, "Machines!B2": "press", "Machines!D2": 900000, "Machines!F2": 12, "Machines!H2": 90, "Machines!J2": 1,
		"Machines!M2": "shared", "Machines!O2": w.source,
		"Parts!A2": w.part, "Parts!B2": w.partName, "Parts!D2": "sheet", "Parts!E2": w.material, "Parts!F2": 2, "Parts!G2": 160, "Parts!H2": 110,
		"Parts!J2": 0.88, "Parts!K2": 0.15, "Parts!N2": w.source,
		"Operations!A2": w.part, "Operations!B2": 10, "Operations!C2": w.step, "Operations!D2": "progressive die forming", "Operations!E2": w.machine,
		"Operations!H2": 1.5, "Operations!N2": 0.005, "Operations!O2": 30, "Operations!P2": 5000, "Operations!Q2": 60000, "Operations!R2": 1000000,
		"Scenarios!D1": w.scenario, "Scenarios!D2": 100000, "Scenarios!D3": w.part,
	}
}

// plateBook is a workbook of the plate, open in the library.
func plateBook(t testing.TB, w plateWords) *excelize.File {
	t.Helper()
	tables, err := fs.Sub(templates.Files, "samples/empty")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Starter(tables, testLibrary(t))
	if err != nil {
		t.Fatal(err)
	}
	for at, v := range plateCells(w) {
		sheet, cell, _ := strings.Cut(at, "!")
		if err := s.f.SetCellValue(sheet, cell, typedText(v)); err != nil {
			t.Fatal(err)
		}
	}
	return s.f
}

// runTo costs a workbook and writes it with its results to another file.
func runTo(t testing.TB, from, to string) {
	t.Helper()
	w, err := Open(from)
	if err != nil {
		t.Fatal(err)
	}
	c, err := w.Case()
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Write(t.Context(), resultOfCase(t, c)); err != nil {
		t.Fatal(err)
	}
	if err := w.Save(t.Context(), to, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
}

// plateResults are the cells of all sheets of a costed plate, by sheet, row and column.
func plateResults(t testing.TB, w plateWords) map[string]ooxml.Cell {
	t.Helper()
	dir := t.TempDir()
	from, to := filepath.Join(dir, "plate.xlsx"), filepath.Join(dir, "results.xlsx")
	f := plateBook(t, w)
	if err := f.SaveAs(from); err != nil {
		t.Fatal(err)
	}
	f.Close()
	runTo(t, from, to)
	back, err := Open(to)
	if err != nil {
		t.Fatal(err)
	}
	cells := map[string]ooxml.Cell{}
	for i := range back.pack.Sheets {
		s := &back.pack.Sheets[i]
		name, _, _ := strings.Cut(s.Name, " "+w.scenario) // of the calculation
		g, err := back.pack.Read(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range g.Cells {
			cells[fmt.Sprintf("%s!R%dC%d", name, c.Row, c.Col)] = c
		}
	}
	return cells
}

// TestTextsAreNoFormulas writes the results of one case twice, with plain words and with wild ones: the same cells hold
// formulas, and in all places where a plain word stands the wild one stands as a text, as it was typed.
func TestTextsAreNoFormulas(t *testing.T) {
	plain := plateResults(t, plainWords)
	wild := plateResults(t, wildWords)
	if a, b := slices.Sorted(maps.Keys(plain)), slices.Sorted(maps.Keys(wild)); !slices.Equal(a, b) {
		t.Errorf("%d cells with plain words, %d with wild ones", len(a), len(b))
	}
	word := map[string]string{}
	for i, w := range plainWords.all() {
		word[w] = wildWords.all()[i]
	}
	shown := map[string]int{}
	for at, was := range plain {
		is := wild[at]
		if (was.Formula == "") != (is.Formula == "") || was.Type != is.Type {
			t.Errorf("%s is %q =%s, with plain words %q =%s", at, is.Type, is.Formula, was.Type, was.Formula)
		}
		if w, ok := word[was.Value]; ok {
			shown[w]++
			if is.Value != w || is.Type != ooxml.Text {
				t.Errorf("%s shows %q %q, want %q", at, is.Type, is.Value, w)
			}
		}
		for _, w := range wildWords.all() {
			if bare := outsideTexts(is.Formula); strings.Contains(bare, w) {
				t.Errorf("%s: the formula %s holds the text %s", at, is.Formula, w)
			}
		}
	}
	for _, w := range wildWords.all() {
		if shown[w] < 2 { // one is the input
			t.Errorf("the text %q is shown %d times", w, shown[w])
		}
	}
}

// outsideTexts is a formula without its texts and quoted names of sheets.
func outsideTexts(formula string) string {
	var out strings.Builder
	quote := rune(0)
	for _, r := range formula {
		switch {
		case quote != 0:
			if r == quote {
				quote = 0
			}
		case r == '"' || r == '\'':
			quote = r
		default:
			out.WriteRune(r)
		}
	}
	return out.String()
}

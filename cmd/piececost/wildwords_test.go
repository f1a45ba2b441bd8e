package main

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// plateWordCells are where each kind of word of a small case stands: a plate with a bought nut, in two scenarios.
var plateWordCells = map[string][]string{
	"part":             {"Parts!A2", "Operations!A2", "Operations!A3", "Bill of materials!A2", "Scenarios!D3", "Scenarios!F3", "Scenarios!B7"},
	"child":            {"Parts!A3", "Bill of materials!B2"},
	"material":         {"Materials!A2", "Parts!E2"},
	"machine":          {"Machines!A2", "Operations!E2", "Operations!E3"},
	"plant":            {"Plants!C1", "Scenarios!D5", "Scenarios!F5"},
	"scenario":         {"Scenarios!D1"},
	"partname":         {"Parts!B2"},
	"operation name":   {"Operations!C2"},
	"note":             {"Case!E3", "Scenarios!E7"},
	"source":           {"Parts!N2", "Materials!I2"},
	"group":            {"Machines!C2"},
	"title":            {"Case!C2"},
	"claim_under_test": {"Case!C3"},
}

// plateFacts are the inputs of the case.
var plateFacts = map[string]any{
	"Case!C2": "plates", "Case!C3": "a claim", "Case!C7": 5, "Case!C8": 0.08, "Plants!C1": "Plant 1", "Plants!C2": 230, "Plants!C3": 2, "Plants!C4": 8,
	"Plants!C7": 35, "Plants!C10": 0.16, "Plants!C14": 0.8,
	"Materials!A2": "S1", "Materials!D2": 7850, "Materials!E2": 0.95, "Materials!G2": 0.25, "Machines!A2": "PRESS", "Machines!D2": 900000,
	"Machines!F2": 12, "Machines!H2": 90, "Machines!J2": 1, "Machines!M2": "shared",
	"Parts!A2": "PLATE", "Parts!B2": "mounting plate", "Parts!D2": "sheet", "Parts!E2": "S1", "Parts!F2": 2, "Parts!G2": 160, "Parts!H2": 110,
	"Parts!J2": 0.88, "Parts!K2": 0.15,
	"Parts!A3": "NUT", "Parts!D3": "purchased part", "Parts!L3": 0.05, "Parts!M3": 0.008, "Bill of materials!A2": "PLATE", "Bill of materials!B2": "NUT",
	"Bill of materials!C2": 2, "Bill of materials!D2": 20,
	"Operations!A2": "PLATE", "Operations!B2": 10, "Operations!C2": "blank", "Operations!D2": "progressive die forming", "Operations!E2": "PRESS",
	"Operations!H2": 1.5, "Operations!N2": 0.005, "Operations!O2": 30, "Operations!P2": 5000, "Operations!Q2": 60000, "Operations!R2": 1000000,
	"Operations!A3": "PLATE", "Operations!B3": 20, "Operations!D3": "projection welding", "Operations!E3": "PRESS", "Operations!H3": 4, "Operations!I3": 2,
	"Operations!J3": 1.6, "Operations!O3": 10, "Operations!P3": 5000, "Operations!N3": 0.003,
	"Scenarios!D1": "Today", "Scenarios!D2": 100000, "Scenarios!D3": "PLATE", "Scenarios!F1": "Thinner", "Scenarios!D5": "Plant 1", "Scenarios!F2": 100000,
	"Scenarios!F3": "PLATE", "Scenarios!F5": "Plant 1", "Scenarios!A7": "Parts", "Scenarios!B7": "PLATE", "Scenarios!C7": "Gauge", "Scenarios!F7": 1.8,
}

type wildWord struct{ name, text, joined, key string }

// wildWords are texts that a person may type, or another program write, with what check must say of them as a key of a
// machine or a plant, and as any other key; empty for nothing. Long ones stand at the limits: 31 characters of
// a sheet's name, 127 and 255 of a key, 32,767 of a cell (ECMA-376 part 1, 18.4.12), and what a row of 409 points shows.
var wildWords = []wildWord{
	{"long name of a sheet", strings.Repeat("S", 40), "", ""},
	{"longest joined key", strings.Repeat("K", 127), "", ""},
	{"longest key", strings.Repeat("K", 255), "more than the 127", ""},
	{"too long a key", strings.Repeat("K", 256), "more than the 127", "more than the 255"},
	{"2,000 characters", strings.Repeat("K", 2000), "more than the 127", "more than the 255"},
	{"as long as a cell", strings.Repeat("k ", 16383) + "k", "more than the 127", "more than the 255"},
	{"emoji over a sheet's name", strings.Repeat("🚀", 21), "", ""},
	{"emoji over a key", strings.Repeat("🚀", 128), "more than the 127", "more than the 255"},
	{"no name of a sheet", "a[b]:c/\\d'", "", ""},
	{"wildcards", "a*b?c~", "takes for other letters", ""},
	{"quotes", "'q\"r'", "", ""},
	{"control characters", "a\x01b\tc\x1bd", "", ""},
	{"a formula", "=1+1", "", ""}, {"plus", "+a", "", ""}, {"minus", "-b", "", ""}, {"at", "@c", "", ""},
	{"blanks around", "  x y  ", "", ""},
	{"carriage return", "a\r\nb", "", ""},
	{"escaped", "_x0041_", "", ""},
	{"no character", "a\ufffeb", "", ""},
	{"bar", "a|b", "", ""},
	{"right to left", "\u202eabc\u200b", "", ""},
}

// wanted is what check must say of a text in a field.
func wanted(field string, w wildWord) string {
	switch field {
	case "machine", "plant":
		if field == "plant" && w.name == "bar" {
			return "has a |"
		}
		return w.joined
	case "material":
		if w.name == "wildcards" {
			return w.joined
		}
		return w.key
	case "part", "child", "scenario":
		return w.key
	}
	return ""
}

// TestWildWords holds that whatever check passes, run writes, as a workbook that spreadsheet programs can open: each wild
// text as all keys that check passes and as all other words at once; what check refuses it says at the cell, key by key.
func TestWildWords(t *testing.T) {
	base := filepath.Join(t.TempDir(), "base.xlsx")
	wordsCommand(t, 0, "new", base)
	setCells(t, base, base, plateFacts)
	wordsCommand(t, 0, "check", base)
	path := filepath.Join(t.TempDir(), "w.xlsx")
	for _, w := range wildWords {
		taken := map[string]any{}
		for field, at := range plateWordCells {
			switch want := wanted(field, w); {
			case want != "":
				cells := map[string]any{}
				fill(cells, at, w.text)
				setCells(t, base, path, cells)
				first := at[0] + ": "
				if said := wordsCommand(t, 1, "check", path); !strings.Contains(said, want) || !strings.Contains(said, first) {
					t.Errorf("%s as %s: check says %.300s, not %s%q", w.name, field, said, first, want)
				}
				continue
			case field == "child": // a part too, and two parts need two keys
				continue
			}
			fill(taken, at, w.text)
		}
		setCells(t, base, path, taken)
		wordsCommand(t, 0, "check", path)
		wordsCommand(t, 0, "run", path)
		canBeOpened(t, w.name, path)
	}
}

func fill(cells map[string]any, at []string, text string) {
	for _, cell := range at {
		cells[cell] = text
	}
}

// wordsCommand runs the program and returns what it says; another exit code fails the test.
func wordsCommand(t *testing.T, code int, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if got := run(args, strings.NewReader(""), &out, &errs); got != code {
		t.Errorf("%s %s: exit %d, %.300s", t.Name(), args[0], got, errs.String()+out.String())
	}
	return out.String() + errs.String()
}

// setCells writes a copy of a workbook with other cells.
func setCells(t *testing.T, from, to string, cells map[string]any) {
	t.Helper()
	f, err := excelize.OpenFile(from)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for at, v := range cells {
		sheet, cell, _ := strings.Cut(at, "!")
		if err := f.SetCellValue(sheet, cell, v); err != nil {
			t.Fatal(err)
		}
	}
	if err := lightly(f).SaveAs(to); err != nil {
		t.Fatal(err)
	}
}

var (
	formulaLiteral = regexp.MustCompile(`"(?:[^"]|"")*"`)
	noSheetName    = regexp.MustCompile(`[:\\/?*\[\]]|^'|'$|[[:cntrl:]]`)
)

// canBeOpened holds a workbook against what spreadsheet programs refuse (common practice, no source, but for cells):
// names of sheets longer than 31 characters, forbidden or twice but for capitals, texts of more than 32,767 characters,
// formulas of more than 8,192, texts in them of more than 255, and parts that are no XML.
func canBeOpened(t *testing.T, name, path string) {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	for _, f := range z.File {
		if err := wellFormed(f); err != nil {
			t.Errorf("%s: part %s: %v", name, f.Name, err)
		}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	pack, err := ooxml.Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for i := range pack.Sheets {
		s := &pack.Sheets[i]
		for _, other := range pack.Sheets[:i] {
			if strings.EqualFold(s.Name, other.Name) {
				t.Errorf("%s: two sheets %q", name, s.Name)
			}
		}
		if table.Characters(s.Name) > 31 || noSheetName.MatchString(s.Name) {
			t.Errorf("%s: a sheet is called %q", name, s.Name)
		}
		g, err := pack.Read(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range g.Cells {
			if fault := cellFault(&c); fault != "" {
				t.Errorf("%s: %s row %d column %d: %s", name, s.Name, c.Row, c.Col, fault)
			}
		}
	}
}

func cellFault(c *ooxml.Cell) string {
	switch {
	case table.Characters(c.Value) > 32767:
		return "a text too long"
	case table.Characters(c.Formula) > 8192:
		return "a formula too long"
	}
	for _, text := range formulaLiteral.FindAllString(c.Formula, -1) {
		if table.Characters(strings.ReplaceAll(text, `""`, `"`))-2 > 255 {
			return "a text in a formula too long"
		}
	}
	return ""
}

// wellFormedParts are the checksums of the parts that were found to be XML: most parts of the workbooks of a test are the same.
var wellFormedParts sync.Map

func wellFormed(f *zip.File) error {
	if !strings.HasSuffix(f.Name, ".xml") && !strings.HasSuffix(f.Name, ".rels") {
		return nil
	}
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	data, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	sum := sha256.Sum256(data)
	if _, known := wellFormedParts.Load(sum); known {
		return nil
	}
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			wellFormedParts.Store(sum, true)
			return nil
		} else if err != nil {
			return err
		}
	}
}

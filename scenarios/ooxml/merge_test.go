package ooxml

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

const mark = "Written by a test"

// ourSheets makes a small workbook as results are: two sheets, formulas, styles, number formats, a chart, print titles.
func ourSheets(t testing.TB, names ...string) *Package {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	format := `#,##0.0;-#,##0.0;"–"`
	style, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Family: "Calibri", Bold: true, Color: "24505F"}, Fill: excelize.Fill{Type: "pattern",
		Pattern: 1, Color: []string{"E6EEF0"}}, CustomNumFmt: &format, Border: []excelize.Border{{Type: "bottom", Color: "C9D3D8", Style: 1}}})
	check(err)
	for i, name := range names {
		if i == 0 {
			check(f.SetSheetName("Sheet1", name))
		} else {
			_, err := f.NewSheet(name)
			check(err)
		}
		sw, err := f.NewStreamWriter(name)
		check(err)
		check(sw.SetRow("A1", []any{excelize.Cell{Value: "Result", StyleID: style}}))
		check(sw.SetRow("A2", []any{mark}))
		check(sw.SetRow("A3", []any{excelize.Cell{Value: 1234.5, StyleID: style}, excelize.Cell{Formula: "A3*2", Value: 2469.0, StyleID: style}}))
		check(f.AddChart(name, "A6", &excelize.Chart{Type: excelize.Col, Series: []excelize.ChartSeries{{Values: "'" + name + "'!$A$3:$B$3"}}}))
		check(sw.Flush())
		check(f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: "'" + name + "'!$1:$2", Scope: name}))
	}
	buf, err := f.WriteToBuffer()
	check(err)
	return openBytes(t, buf.Bytes())
}

func openBytes(t testing.TB, data []byte) *Package {
	t.Helper()
	p, err := Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// ownByMark tells our sheets as the program does.
func ownByMark(p *Package) func(*Sheet) bool {
	return func(s *Sheet) bool {
		v, err := p.Peek(s, 2, 1)
		return err == nil && v == mark
	}
}

func putInto(target, ours *Package) ([]byte, error) {
	var out bytes.Buffer
	err := Put(&out, target, ours, ownByMark(target), nil)
	return out.Bytes(), err
}

// partBytes are the parts of a package as they are stored.
func partBytes(t testing.TB, data []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			out[f.Name] = "unreadable"
			continue
		}
		b, _ := io.ReadAll(r)
		r.Close()
		out[f.Name] = string(b)
	}
	return out
}

// changeable are the parts that putting sheets in may change, by the end of their names in lower case.
var changeable = []string{"[content_types].xml", "workbook.xml", "workbook.xml.rels", "workbook2.xml", "workbook22.xml", "workbook22.xml.rels",
	"workbook2.xml.rels", "styles.xml", "styles2.xml", "styles22.xml", "stylesheet.xml"}

func mayChange(name string) bool {
	for _, c := range changeable {
		if strings.HasSuffix(strings.ToLower(name), c) {
			return true
		}
	}
	return false
}

// TestPutCorpus puts sheets into every public workbook that is at hand: all other parts stay byte for byte, the sheets
// read back as they were, a second run adds no part, and sheets that are gone take their parts with them.
func TestPutCorpus(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "..", "shared", "corpus", "*.xls*"))
	if len(files) == 0 {
		t.Skip("the corpus of public workbooks is not beside the checkout; NOT tried on them")
	}
	ours, fewer := ourSheets(t, "Result of test", "Second"), ourSheets(t, "Result of test")
	put, refused := 0, 0
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Base(path)
		target, err := Open(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			refused++
			t.Logf("%s: %v", name, err)
			continue
		}
		once, err := putInto(target, ours)
		if err != nil {
			refused++
			t.Logf("%s: %v", name, err)
			if strings.Contains(err.Error(), "\n") {
				t.Errorf("%s: more than one line", name)
			}
			continue
		}
		put++
		checkPut(t, name, data, once, target, 2)
		twice, err := putInto(openBytes(t, once), ours)
		if err != nil {
			t.Errorf("%s: second run: %v", name, err)
			continue
		}
		checkPut(t, name, data, twice, target, 2)
		if a, b := len(partBytes(t, once)), len(partBytes(t, twice)); a != b {
			t.Errorf("%s: %d parts after one run, %d after two", name, a, b)
		}
		if a, b := len(partBytes(t, once)["xl/styles.xml"]), len(partBytes(t, twice)["xl/styles.xml"]); a != b {
			t.Errorf("%s: the styles grow from %d to %d bytes at a second run", name, a, b)
		}
		less, err := putInto(openBytes(t, twice), fewer)
		if err != nil {
			t.Errorf("%s: third run: %v", name, err)
			continue
		}
		checkPut(t, name, data, less, target, 1)
	}
	t.Logf("put into %d workbooks, refused %d; formats looked at in %d", put, refused, formatsChecked)
	if formatsChecked < put*2 {
		t.Errorf("the format of a cell of ours was looked at %d times only", formatsChecked)
	}
	if put < len(files)*3/4 {
		t.Errorf("put into %d of %d only", put, len(files))
	}
}

func checkPut(t *testing.T, name string, before, after []byte, target *Package, ours int) {
	t.Helper()
	a, b := partBytes(t, before), partBytes(t, after)
	for part, text := range a {
		if strings.HasSuffix(part, "/") {
			continue // a folder of the zip is no part
		}
		got, there := b[part]
		switch {
		case strings.HasSuffix(strings.ToLower(part), "calcchain.xml"):
		case !there:
			t.Errorf("%s: part %s is gone", name, part)
		case got != text && !mayChange(part):
			t.Errorf("%s: part %s has changed", name, part)
		}
	}
	p := openBytes(t, after)
	if len(p.Sheets) != len(target.Sheets)+ours {
		t.Errorf("%s: %d sheets, want %d", name, len(p.Sheets), len(target.Sheets)+ours)
		return
	}
	for i := range target.Sheets {
		if p.Sheets[i].Name != target.Sheets[i].Name || p.Sheets[i].part != target.Sheets[i].part {
			t.Errorf("%s: sheet %d is %v, was %v", name, i, p.Sheets[i], target.Sheets[i])
		}
	}
	g, err := p.Read(p.Sheet("Result of test"))
	if err != nil || len(g.Cells) != 4 || g.Cells[3].Formula != "A3*2" || g.Cells[3].Value != "2469" {
		t.Errorf("%s: our sheet reads %+v, %v", name, g, err)
	}
	lib, err := excelize.OpenReader(bytes.NewReader(after))
	if err != nil {
		return // nor does the library open the workbook without our sheet, or TestCorpus would say so
	}
	defer lib.Close()
	formatsChecked++
	if got := ourFormat(t, lib, "Result of test", "B3"); got != `2,469.0 as #,##0.0;-#,##0.0;"–", bold true, 24505F, <nil>` {
		t.Errorf("%s: our cell shows %s", name, got)
	}
}

// formatsChecked counts workbooks in which the library showed a cell of ours.
var formatsChecked int

// TestPutRefuses says in one line why a package is left alone.
func TestPutRefuses(t *testing.T) {
	ours := ourSheets(t, "Result of test")
	plain := map[string]string{}
	f := excelize.NewFile()
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	for n, text := range partBytes(t, buf.Bytes()) {
		plain[n] = text
	}
	for name, change := range map[string]func(map[string]string){
		"signed": func(m map[string]string) {
			m["_rels/.rels"] = strings.Replace(m["_rels/.rels"], "</Relationships>",
				`<Relationship Id="rIdS" Type="http://schemas.openxmlformats.org/package/2006/relationships/digital-signature/origin" `+
					`Target="_xmlsignatures/origin.sigs"/></Relationships>`, 1)
			m["_xmlsignatures/origin.sigs"] = ""
		},
		"strict": func(m map[string]string) {
			m["xl/workbook.xml"] = strings.Replace(m["xl/workbook.xml"], "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
				"http://purl.oclc.org/ooxml/spreadsheetml/main", 1)
		},
	} {
		parts := map[string]string{}
		for n, text := range plain {
			parts[n] = text
		}
		change(parts)
		_, err := putInto(openBytes(t, zipOf(t, parts)), ours)
		if !errors.Is(err, ErrRefused) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func zipOf(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for n, text := range parts {
		w, err := z.Create(n)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(w, text); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

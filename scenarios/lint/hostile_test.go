package lint

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"piececost/scenarios/ooxml"
)

// TestBrokenFiles: each is refused with one line that says what it is.
func TestBrokenFiles(t *testing.T) {
	good := written(t, []string{cells("")}, nil)
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty", nil, "zip"},
		{"text", []byte("words"), "zip"},
		{"cut", good[:len(good)/2], "zip"},
		{"no workbook", zipped(t, map[string]string{"a.txt": "words"}), "it has no workbook part"},
		{"bomb", declared(t, ooxml.MaxPart+1), "unpacks to"},
		{"document type", written(t, []string{`<!DOCTYPE x [<!ENTITY a "aaaa">]>` + cells("")}, nil), "document type"},
		{"cut sheet", written(t, []string{`<sheetData><row r="1"><c r="A1"><v>1`}, nil), "broken"},
		{"far cell", written(t, []string{cells(`<row r="1048577"><c r="A1048577"><v>1</v></c></row>`)}, nil), "row 1048577"},
	} {
		path := filepath.Join(t.TempDir(), "book.xlsx")
		check(t, os.WriteFile(path, c.data, 0o600))
		_, err := File(path)
		if err == nil {
			t.Errorf("%s: no error", c.name)
			continue
		}
		text := err.Error()
		if !strings.HasPrefix(text, path+" can't be read as an .xlsx workbook: ") || !strings.Contains(text, c.want) || strings.ContainsAny(text, "\n\r") {
			t.Errorf("%s: %s", c.name, text)
		}
	}
	dir := t.TempDir()
	for path, want := range map[string]string{dir: " is a folder, not a workbook", filepath.Join(dir, "no.xlsx"): ": there is no such file"} {
		if _, err := File(path); err == nil || err.Error() != path+want {
			t.Errorf("%s: %v, want %s", path, err, want)
		}
	}
}

// declared makes a package whose workbook part says that it unpacks to so many bytes.
func declared(t *testing.T, size uint64) []byte {
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	w, err := z.Create("_rels/.rels")
	check(t, err)
	_, err = w.Write([]byte(`<Relationships><Relationship Id="rId1" Type="x/officeDocument" Target="w.xml"/></Relationships>`))
	check(t, err)
	_, err = z.CreateRaw(&zip.FileHeader{Name: "w.xml", Method: zip.Deflate, UncompressedSize64: size})
	check(t, err)
	check(t, z.Close())
	return buf.Bytes()
}

// TestHostileWorkbooks: readable, and built to take time or memory; each is done in seconds.
func TestHostileWorkbooks(t *testing.T) {
	row := func(n int, cell string) string {
		return fmt.Sprintf(`<row r="%d">%s</row>`, n, strings.ReplaceAll(cell, "#", fmt.Sprint(n)))
	}
	many := func(n int, cell string) string {
		var b strings.Builder
		for i := 1; i <= n; i++ {
			b.WriteString(row(i, cell))
		}
		return cells(b.String())
	}
	names := "<definedNames>"
	for i := range 40 {
		names += fmt.Sprintf(`<definedName name="N%d_">N%d_+N%d_+N%d_</definedName>`, i, (i+1)%40, (i+2)%40, (i+3)%40)
	}
	for _, c := range []struct {
		name, sheet, names string
	}{
		{"names in circles", many(500, `<c r="A#"><f>N0_+N1_</f></c>`), names + "</definedNames>"},
		{"a formula of 2 MB", cells(row(1, `<c r="A1"><f>`+strings.Repeat("1.5,", 1<<19)+`1</f></c>`)), ""},
		{"8,000 numbers in braces", many(20, `<c r="A#"><f>SUM({`+strings.Repeat("7,", 8000)+`7})</f></c>`), ""},
		{"4,000 brackets", many(20, `<c r="A#"><f>`+strings.Repeat("(", 4000)+"1"+strings.Repeat(")", 4000)+`</f></c>`), ""},
		{"whole rows and columns", many(20000, `<c r="A#"><v>#.5</v></c><c r="B#"><f>SUM(1:1048576)+SUM(A:XFD)+A#</f></c>`), ""},
		{"errors that read all errors", many(3000, `<c r="A#" t="e"><f>SUM(B1:XFD1048576)</f><v>#N/A</v></c>`), ""},
		{"text numbers", many(30000, `<c r="A#" t="str"><v>#</v></c>`), ""},
		{"units", many(20000, `<c r="A#" t="str"><v># mm</v></c>`), ""},
		{"array formulas over everything", many(3000, `<c r="A#"><f t="array" ref="A1:XFD1048576">B#</f><v>1</v></c>`), ""},
		{"hidden rows", `<cols>` + strings.Repeat(`<col min="1" max="16384" hidden="1"/>`, 3000) + `</cols>` + many(20000,
			`<c r="A#"><v>1</v></c><c r="XFD#"><v>1</v></c>`), ""},
		{"3-D references", many(2000, `<c r="A#"><f>SUM(S1:S1!A1,S1:S9!A1)</f></c>`), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := written(t, []string{c.sheet}, map[string]string{"names": c.names})
			start := time.Now()
			_, err := Read(bytes.NewReader(data), int64(len(data)), "")
			check(t, err)
			if d := time.Since(start); d > 20*time.Second {
				t.Errorf("it took %v", d)
			} else {
				t.Log(d)
			}
		})
	}
}

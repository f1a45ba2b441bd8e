package scenarios

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// namedPlate is a costed plate whose workbook part has a content type, to be saved.
func namedPlate(t *testing.T, name, kind string) (*Workbook, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	f := plateBook(t, plainWords)
	if err := f.SaveAs(path + ".xlsx"); err != nil {
		t.Fatal(err)
	}
	f.Close()
	parts := unzip(t, path+".xlsx")
	const plain = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
	parts["[Content_Types].xml"] = bytes.ReplaceAll(parts["[Content_Types].xml"], []byte(plain), []byte(kind))
	rezip(t, path, parts)
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return w, filepath.Dir(path)
}

// TestMaySaveAs holds that a workbook goes under a name of its own kind alone: programs go by the name, and refuse what
// is of another kind (content types: ECMA-376 part 1, 12.3.23; of those with macros: as programs write them).
func TestMaySaveAs(t *testing.T) {
	const (
		plain    = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
		macros   = "application/vnd.ms-excel.sheet.macroEnabled.main+xml"
		template = "application/vnd.openxmlformats-officedocument.spreadsheetml.template.main+xml"
	)
	for _, c := range []struct{ file, kind, out, refused string }{
		{"a.xlsx", plain, "b.xlsx", ""},
		{"a.xlsx", plain, "b.XLSX", ""},
		{"a.xlsx", plain, "b.xlsm", "holds no macros (.xlsx), and no program opens it as .xlsm; name the output "},
		{"a.xlsm", macros, "b.xlsm", ""},
		{"a.xlsm", macros, "b.xlsx", "holds macros (.xlsm), which no program opens as .xlsx; name the output "},
		{"a.xlsm", macros, "b.ods", "name the output "},
		{"a.xlsx", plain, "b.", "name the output "},
		{"a.xltx", template, "b.xlsx", "is a template or an add-in (.xltx)"},
	} {
		w, dir := namedPlate(t, c.file, c.kind)
		err := w.MaySaveAs(filepath.Join(dir, c.out), SaveOptions{})
		switch {
		case c.refused == "" && err != nil, c.refused != "" && (err == nil || !strings.Contains(err.Error(), c.refused)):
			t.Errorf("%s as %s: %v, wanted %q", c.file, c.out, err, c.refused)
		case strings.HasSuffix(c.refused, "name the output ") && !strings.HasSuffix(err.Error(), filepath.Join(dir, "b")+filepath.Ext(c.file)):
			t.Errorf("%s as %s: %v names no output that fits", c.file, c.out, err)
		}
	}
}

// rezipWithFolders writes parts as a general zip program does: with an entry for each folder, some of them packed.
func rezipWithFolders(t *testing.T, path string, parts map[string][]byte) {
	t.Helper()
	var names []string
	for name := range parts {
		names = append(names, name)
		for dir := filepath.Dir(name); dir != "."; dir = filepath.Dir(dir) {
			names = append(names, dir+"/")
		}
	}
	slices.Sort(names)
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, name := range slices.Compact(names) {
		if err := addEntry(z, name, parts[name]); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
}

// addEntry adds a part, or a folder; that of the sheets as the empty deflate stream that some programs write.
func addEntry(z *zip.Writer, name string, data []byte) error {
	if name == "xl/worksheets/" {
		nothing := []byte{3, 0}
		w, err := z.CreateRaw(&zip.FileHeader{Name: "xl/worksheets_", Method: zip.Deflate, CompressedSize64: uint64(len(nothing))})
		if err == nil {
			_, err = w.Write(nothing)
		}
		return err
	}
	w, err := z.Create(name)
	if err == nil && !strings.HasSuffix(name, "/") {
		_, err = w.Write(data)
	}
	return err
}

// TestFoldersInZip costs, lints and fills a workbook that a general zip program has packed again, with entries for its
// folders: they are no parts, and nothing else changes.
func TestFoldersInZip(t *testing.T) {
	dir := t.TempDir()
	made, packed, out, plain := filepath.Join(dir, "made.xlsx"), filepath.Join(dir, "packed.xlsx"), filepath.Join(dir, "out.xlsx"),
		filepath.Join(dir, "plain.xlsx")
	f := plateBook(t, plainWords)
	if err := f.SaveAs(made); err != nil {
		t.Fatal(err)
	}
	f.Close()
	rezipWithFolders(t, packed, unzip(t, made))
	data := bytes.ReplaceAll(readFile(t, packed), []byte("xl/worksheets_"), []byte("xl/worksheets/"))
	if err := os.WriteFile(packed, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(data, []byte("xl/theme/PK")) {
		t.Fatal("the workbook has no entries of folders")
	}
	runTo(t, packed, out)
	runTo(t, out, out)
	runTo(t, made, plain)
	runTo(t, plain, plain)
	if a, b := partNames(unzip(t, plain)), partNames(unzip(t, out)); !slices.Equal(a, b) {
		t.Errorf("with folders the parts are %q, without %q", b, a)
	}
	if _, err := excelize.OpenFile(out); err != nil {
		t.Error(err)
	}
	if w, err := OpenStarter(packed); err != nil {
		t.Error(err)
	} else if err := w.Save(t.Context(), packed, SaveOptions{Replace: true}); err != nil {
		t.Error(err)
	}
	if _, err := Read(packed); err != nil {
		t.Error(err)
	}
}

package scenarios

import (
	"archive/zip"
	"compress/flate"
	"fmt"
	"io"
	"io/fs"
	"os"
	"sort"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/templates"
)

// testLibrary loads the equations.
// readLibrary reads the library once for all tests; what changes it works on a copy.
var readLibrary = sync.OnceValues(func() (*costmodel.Library, error) { return costmodel.LoadLibrary(templates.Files) })

func testLibrary(t testing.TB) *costmodel.Library {
	t.Helper()
	lib, err := readLibrary()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// saveSample writes the sample workbook.
func saveSample(t testing.TB, path string) {
	t.Helper()
	tables, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		t.Fatal(err)
	}
	saveTables(t, tables, path)
}

// saveTables writes a workbook from CSV tables.
func saveTables(t testing.TB, tables fs.FS, path string) {
	t.Helper()
	w, err := Starter(tables, testLibrary(t))
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Save(t.Context(), path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
}

// resultOf reads and costs a workbook; a case with errors fails the test.
func resultOf(t testing.TB, path string) *Result {
	t.Helper()
	c, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	return resultOfCase(t, c)
}

// resultOfCase costs a case; one with errors fails the test.
func resultOfCase(t testing.TB, c *table.Case) *Result {
	t.Helper()
	return resultWith(t, c, testLibrary(t))
}

// resultWith costs a case by other definitions.
func resultWith(t testing.TB, c *table.Case, lib *costmodel.Library) *Result {
	t.Helper()
	m := costmodel.New(c, lib)
	ds := m.Diagnostics
	r := &Result{}
	for _, s := range m.Scenarios {
		p, more := m.Compile(s, costmodel.CompileOptions{})
		ds = append(ds, more...)
		if p == nil {
			continue
		}
		r.Details = append(r.Details, p.Detail(s.Volume))
		sweep, err := p.Sweep([]float64{s.Volume / 2, s.Volume, 2 * s.Volume})
		if err != nil {
			t.Fatal(err)
		}
		r.Sweeps = append(r.Sweeps, sweep)
	}
	for _, d := range ds.Sorted() {
		if d.Severity == table.Error {
			t.Fatal(d)
		}
	}
	r.Compare = &CompareStudy{Comparison: study.Compare(r.Details, 0)}
	return r
}

// sampleFiles are the sample's tables in memory.
func sampleFiles(t testing.TB) fstest.MapFS {
	t.Helper()
	sample, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		t.Fatal(err)
	}
	names, err := fs.Glob(sample, "*.csv")
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for _, name := range names {
		data, err := fs.ReadFile(sample, name)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = &fstest.MapFile{Data: data}
	}
	return out
}

// sampleOf is the sample with other scenarios: a column for each of the given designs, A, B or C.
func sampleOf(t testing.TB, designs []string) fstest.MapFS {
	t.Helper()
	out := sampleFiles(t)
	rows := [][]string{{"Sheet", "Row", "Column"}, {"", "", "Annual volume [1/yr]"}, {"", "", "Product"}, {"", "", "Plant"}}
	for i, design := range designs {
		rows[0] = append(rows[0], fmt.Sprintf("%s %d", design, 1+i))
		rows[1], rows[2], rows[3] = append(rows[1], "60000"), append(rows[2], "TRAY_"+design), append(rows[3], "Van plant")
	}
	var text strings.Builder
	for _, row := range rows {
		text.WriteString(strings.Join(row, ",") + "\n")
	}
	out["scenarios.csv"] = &fstest.MapFile{Data: []byte(text.String())}
	return out
}

// modelOf reads a workbook.
func modelOf(t testing.TB, path string) *costmodel.Model {
	t.Helper()
	c, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	return costmodel.New(c, testLibrary(t))
}

// compileAll compiles all scenarios of a model.
func compileAll(t testing.TB, m *costmodel.Model) []*costmodel.Plan {
	t.Helper()
	var out []*costmodel.Plan
	for _, s := range m.Scenarios {
		p, ds := m.Compile(s, costmodel.CompileOptions{})
		if p == nil {
			t.Fatal(append(m.Diagnostics, ds...)[0])
		}
		out = append(out, p)
	}
	return out
}

// quickly is a zip writer that presses nothing together: tests change many workbooks, and their size is nothing to them.
func quickly(to io.Writer) *zip.Writer { return zipAt(to, flate.NoCompression) }

func zipAt(to io.Writer, level int) *zip.Writer {
	z := zip.NewWriter(to)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, level) })
	return z
}

// lightly has excelize pack a workbook quickly when it is saved.
func lightly(f *excelize.File) *excelize.File {
	return f.SetZipWriter(func(w io.Writer) excelize.ZipWriter { return quickly(w) })
}

func unzip(t testing.TB, path string) map[string][]byte {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	out := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if out[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
		r.Close()
	}
	return out
}

func rezip(t testing.TB, path string, parts map[string][]byte) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z := quickly(f)
	var names []string
	for n := range parts {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		w, err := z.Create(n)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(parts[n]); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
}

package scenarios

import (
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/templates"
)

// TestImportSample fills an empty workbook from the sample's tables and costs it as the sample.
func TestImportSample(t *testing.T) {
	empty, err := fs.Sub(templates.Files, "samples/empty")
	if err != nil {
		t.Fatal(err)
	}
	tables, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		t.Fatal(err)
	}
	w, err := Starter(empty, testLibrary(t))
	if err != nil {
		t.Fatal(err)
	}
	report, err := w.Import(tables, ImportOptions{Library: testLibrary(t)})
	if err != nil {
		t.Fatal(err)
	}
	if report.Rows["Parts"] != 49 || report.Rows["Operations"] != 68 || report.Rows["Bill of materials"] != 59 {
		t.Errorf("rows %v", report.Rows)
	}
	path := filepath.Join(t.TempDir(), "imported.xlsx")
	if err := w.Save(t.Context(), path, SaveOptions{}); err != nil {
		t.Fatal(err)
	}
	r := resultOf(t, path)
	for i, want := range []string{"186.4717", "195.6186", "182.6210"} {
		if got := r.Details[i].Scenario().Must("piece_cost"); !samePrinted(got, want, 4) {
			t.Errorf("%s: %v, want %s", r.Details[i].Plan.Scenario.Name, got, want)
		}
	}
}

// TestImportErrors names the file and what is wrong.
func TestImportErrors(t *testing.T) {
	const head = "file,column,sheet,heading,value,replace\n"
	for name, c := range map[string]struct {
		files map[string]string
		want  string
	}{
		"no tables":         {map[string]string{"x.txt": ""}, "neither columns.csv nor tables"},
		"no file":           {map[string]string{"columns.csv": head + "p.csv,a,Parts,Part,,\n"}, "p.csv: there is no such file"},
		"no column":         {map[string]string{"columns.csv": head + "p.csv,a,Parts,Part,,\n", "p.csv": "b\n1\n"}, `p.csv has no column "a"`},
		"unknown sheet":     {map[string]string{"columns.csv": head + "p.csv,a,Partz,Part,,\n", "p.csv": "a\n1\n"}, `columns.csv line 2`},
		"wrong dimension":   {map[string]string{"columns.csv": head + "p.csv,a,Parts,Gauge [kg],,\n", "p.csv": "a\n1\n"}, "Gauge [kg] is mass [kg]"},
		"decimal comma":     {map[string]string{"columns.csv": head + "p.csv,a,Parts,Gauge [mm],,\n", "p.csv": "a\n\"0,7\"\n"}, "p.csv line 2, a"},
		"nothing to write":  {map[string]string{"columns.csv": head + "p.csv,,Parts,Form,,\n", "p.csv": "a\n1\n"}, "give the column, or the value"},
		"map without heads": {map[string]string{"columns.csv": "file,sheet\n"}, `no column "column"`},
	} {
		t.Run(name, func(t *testing.T) {
			files := fstest.MapFS{}
			for n, text := range c.files {
				files[n] = &fstest.MapFile{Data: []byte(text)}
			}
			empty, err := fs.Sub(templates.Files, "samples/empty")
			if err != nil {
				t.Fatal(err)
			}
			w, err := Starter(empty, testLibrary(t))
			if err != nil {
				t.Fatal(err)
			}
			if _, err := w.Import(files, ImportOptions{Library: testLibrary(t)}); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q", err, c.want)
			}
		})
	}
}

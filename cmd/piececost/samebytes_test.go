package main

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/xuri/excelize/v2"

	"piececost/scenarios"
)

// studyCommands are the commands that print and write nothing; FILE stands for the workbook, ~ for a space in an argument.
// [csv] and [json] are forms beside words.
var studyCommands = []string{
	"check FILE [json]",
	"lint FILE [json]",
	"sweep FILE --plot", "sweep FILE --points 5 --from 5000 --to 50000 [csv] [json]",
	"crossover FILE --to 12000 [csv] [json]", "crossover FILE --to 12000 --csv --of envelope", "crossover FILE --to 12000 --csv --of bands",
	"crossover FILE --to 7000 --stability --scenario B --against A [csv] [json]",
	"compare FILE [csv] [json]", "compare FILE --by part --equipment-allocation [csv] [json]", "compare FILE --by operation",
	"volumes FILE [csv] [json]", "volumes FILE --machines [csv] [json]",
	"combine FILE --volume 60000 [csv] [json]",
	"solve FILE --scenario B --equals A --volume 60000 [csv] [json]",
	"solve FILE --scenario B --equals A --parity A", // a refusal
	"solve FILE --scenario A --target 0.6 --volume 60000 --input Materials/S1/Base~price [csv] [json]",
	"sensitivity FILE --difference A,B [csv] [json]", "sensitivity FILE --scenario A --elasticities [csv] [json]",
	"sensitivity FILE --scenario A --x Annual~volume --y Materials/S1/Base~price [csv] [json]",
	"map FILE --x Annual~volume --y Materials/S1/Base~price [csv] [json]",
	"trial FILE --scenario A --part PLATE --grades S1,S2 --gauges 1.6,2,2.5 [csv] [json]",
	"explain FILE --scenario B --quantity piece_cost [json]",
	"processes", "processes operation", "processes timed~operation",
}

// linesOf are the command lines of an entry of studyCommands.
func linesOf(entry, file string) [][]string {
	var plain []string
	var out [][]string
	for _, w := range strings.Fields(entry) {
		if form, ok := strings.CutPrefix(w, "["); ok {
			out = append(out, append(slices.Clone(plain), "--"+strings.TrimSuffix(form, "]")))
			continue
		}
		plain = append(plain, strings.ReplaceAll(strings.Replace(w, "FILE", file, 1), "~", " "))
	}
	return append(out, plain)
}

// A trace is what a run of the program made: what it printed, and each part of a workbook that it wrote with its place and
// time stamps.
type trace map[string][sha256.Size]byte

// spentTime is what crossover says on standard error of the time that it took.
var spentTime = regexp.MustCompile(` in [0-9.]+ s\n`)

func (tr trace) command(args ...string) {
	var out, errs bytes.Buffer
	code := run(args, strings.NewReader(""), &out, &errs)
	said := spentTime.ReplaceAll(errs.Bytes(), nil)
	tr["printed by "+strings.Join(args, " ")] = sha256.Sum256(fmt.Appendf(nil, "%d\n%s\n%s", code, out.Bytes(), said))
}

// must is a command that has to succeed, and the workbook that it wrote.
func (tr trace) must(t *testing.T, file string, args ...string) {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(args, strings.NewReader(""), &out, &errs); code != 0 {
		t.Fatalf("piececost %s: exit %d: %s%s", strings.Join(args, " "), code, out.Bytes(), errs.Bytes())
	}
	what := strings.Join(args, " ")
	tr["printed by "+what] = sha256.Sum256(append(out.Bytes(), errs.Bytes()...))
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	tr["file of "+what] = sha256.Sum256(data)
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range z.File {
		if !f.Modified.IsZero() && f.Modified.Year() > 1980 {
			t.Errorf("%s of %s has the time stamp %v", f.Name, what, f.Modified)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		part, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		tr[fmt.Sprintf("part %d %s of %s", i, f.Name, what)] = sha256.Sum256(part)
	}
}

// sameBytes makes a trace again and again, on one core and on two, and tells what differs from the first, which must hold
// all that a later one holds.
func sameBytes(t *testing.T, times int, make func(n int, tr trace)) {
	t.Helper()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	first := trace{}
	make(0, first)
	differ := map[string]int{}
	for n := 1; n < times; n++ {
		runtime.GOMAXPROCS(1 + n%2)
		again := trace{}
		make(n, again)
		for what, sum := range again {
			if first[what] != sum {
				differ[what]++
			}
		}
	}
	for _, what := range slices.Sorted(maps.Keys(differ)) {
		t.Errorf("%s differs from the first in %d of %d runs", what, differ[what], times-1)
	}
}

// sameTimes is how often the small case is run.
var sameTimes = flag.Int("same-bytes", 4, "runs of every command on the small case; 30 in make check")

// TestSameBytesSmall: same input, same bytes, of every command; many times, for the order of a map is another each time.
func TestSameBytesSmall(t *testing.T) {
	tables := unpack(t, "small.txtar")
	given := small(t, tables)
	edited := handEdited(t, given)
	dir := t.TempDir()
	t.Chdir(dir) // names of files are printed
	sameBytes(t, *sameTimes, func(n int, tr trace) {
		remove(t, "new.xlsx", "imported.xlsx")
		tr.must(t, "new.xlsx", "new", "new.xlsx")
		tr.must(t, "imported.xlsx", "import", filepath.Join(tables, "tables"), "imported.xlsx")
		write(t, "small.xlsx", given)
		for _, entry := range studyCommands {
			lines := linesOf(entry, "small.xlsx")
			if n > 0 { // one form in each run, all of them in the first
				lines = lines[n%len(lines):][:1]
			}
			for _, args := range lines {
				tr.command(args...)
			}
		}
		tr.must(t, "small.xlsx", "run", "small.xlsx")
		if n%3 != 0 { // the same work in other words
			return
		}
		tr.command("lint", "small.xlsx", "--all")
		tr.must(t, "out.xlsx", "run", "small.xlsx", "-o", "out.xlsx", "--replace", "--json")
		write(t, "edited.xlsx", edited)
		tr.must(t, "edited.xlsx", "run", "edited.xlsx")
	})
}

// TestSameBytesSample: the sample, in which most is made side by side on several cores; fewer times, for it is larger.
func TestSameBytesSample(t *testing.T) {
	t.Chdir(t.TempDir())
	sameBytes(t, max(2, *sameTimes/5), func(_ int, tr trace) {
		remove(t, "tray.xlsx")
		tr.must(t, "tray.xlsx", "new", "--sample", "battery-tray", "tray.xlsx")
		tr.must(t, "tray.xlsx", "run", "tray.xlsx")
	})
}

func remove(t *testing.T, files ...string) {
	t.Helper()
	for _, f := range files {
		if err := os.Remove(f); err != nil && !os.IsNotExist(err) {
			t.Fatal(err)
		}
	}
}

func write(t *testing.T, file string, data []byte) {
	t.Helper()
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// unpack writes the tables of a case of testdata/same-bytes into a folder.
func unpack(t *testing.T, name string) (folder string) {
	t.Helper()
	archive, err := txtar.ParseFile(filepath.Join("..", "..", "testdata", "same-bytes", name))
	if err != nil {
		t.Fatal(err)
	}
	folder = t.TempDir()
	if err := txtar.Write(archive, folder); err != nil {
		t.Fatal(err)
	}
	return folder
}

// small is the workbook of the small case.
func small(t *testing.T, tables string) []byte {
	t.Helper()
	lib, err := library()
	if err != nil {
		t.Fatal(err)
	}
	starter, err := fs.Sub(os.DirFS(tables), "starter")
	if err != nil {
		t.Fatal(err)
	}
	w, err := scenarios.Starter(starter, lib)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "small.xlsx")
	if err := w.Save(t.Context(), file, scenarios.SaveOptions{}); err != nil {
		t.Fatal(err)
	}
	return read(t, file)
}

func read(t *testing.T, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// handEdited is a costed workbook with two numbers typed over formulas of a result sheet, which the next run takes into
// the sheet Overrides.
func handEdited(t *testing.T, given []byte) []byte {
	t.Helper()
	file := filepath.Join(t.TempDir(), "edited.xlsx")
	write(t, file, given)
	trace{}.must(t, file, "run", file)
	f, err := excelize.OpenFile(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sheet := "Calculation A stamped"
	typed := 0
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	for r := len(rows); r > 0 && typed < 2; r-- {
		for c := len(rows[r-1]); c > 0 && typed < 2; c-- {
			cell, _ := excelize.CoordinatesToCellName(c, r)
			if formula, _ := f.GetCellFormula(sheet, cell); formula == "" {
				continue
			}
			if err := f.SetCellFormula(sheet, cell, ""); err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellFloat(sheet, cell, 0.25+float64(typed), -1, 64); err != nil {
				t.Fatal(err)
			}
			typed++
		}
	}
	if err := f.Save(); err != nil {
		t.Fatal(err)
	}
	return read(t, file)
}

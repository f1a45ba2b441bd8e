package main

import (
	"archive/zip"
	"compress/flate"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/xuri/excelize/v2"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
)

var update = flag.Bool("update", false, "rewrite the expected outputs in testdata/script")

func TestMain(m *testing.M) {
	debug.SetMemoryLimit(3 << 30)
	debug.SetGCPercent(1200) // memory is there for tests, and a collection less is time, here and in the program that scripts run
	if os.Getenv(asProgram) != "" {
		main()
	}
	os.Exit(m.Run())
}

// TestScripts runs testdata/script/*.txtar, each in a folder of its own.
func TestScripts(t *testing.T) {
	dir, err := filepath.Abs(filepath.Join("..", "..", "testdata", "script")) // the process is in other folders meanwhile
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           dir,
		UpdateScripts: *update,
		Setup:         processOfItsOwn,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"piececost":  piececostHere,
			"edit":       editWorkbook,
			"foreign":    foreignWorkbook,
			"xlsxdump":   dumpWorkbook,
			"same":       sameFile,
			"narrow":     narrow,
			"fewstudies": fewStudies,
		},
	})
}

// processOfItsOwn has `exec piececost` start this test as the program.
func processOfItsOwn(env *testscript.Env) error {
	here, err := os.Executable()
	if err != nil {
		return err
	}
	folder := filepath.Join(env.WorkDir, ".program")
	if err := os.Mkdir(folder, 0o755); err != nil {
		return err
	}
	env.Setenv("PATH", folder+string(filepath.ListSeparator)+env.Getenv("PATH"))
	env.Setenv(asProgram, "yes")
	return os.Symlink(here, filepath.Join(folder, "piececost"))
}

// inScriptFolder is held while the process is in the folder of a script, which it is in while the program runs.
var inScriptFolder sync.Mutex

// piececostHere is `piececost ARGUMENTS`, the program within this process: it has not to be started and to read its library some hundred
// times. What needs a process of its own, as a pipe that closes, says exec piececost.
func piececostHere(ts *testscript.TestScript, neg bool, args []string) {
	inScriptFolder.Lock()
	defer inScriptFolder.Unlock()
	home, err := os.Getwd()
	ts.Check(err)
	ts.Check(os.Chdir(ts.MkAbs(".")))
	defer func() { ts.Check(os.Chdir(home)) }()
	switch code := run(args, strings.NewReader(""), ts.Stdout(), ts.Stderr()); {
	case code != 0 && !neg:
		ts.Fatalf("piececost ended with exit code %d", code)
	case code == 0 && neg:
		ts.Fatalf("piececost did its work, which it should have refused")
	}
}

// foreignWorkbook is `foreign FILE`: a workbook that has none of our sheets.
func foreignWorkbook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: foreign FILE")
	}
	ts.Check(excelize.NewFile().SaveAs(ts.MkAbs(args[0])))
}

// editWorkbook is `edit FILE Sheet!Cell value ...`: a number, a text, =formula (native, without stored result), ~text
// (a text that looks like a number or begins with =), merge:B1 (merges up to that cell), clear:, row:N
// (inserts N empty rows before).
func editWorkbook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 || len(args)%2 != 1 {
		ts.Fatalf("usage: edit FILE Sheet!Cell value [Sheet!Cell value ...]")
	}
	path := ts.MkAbs(args[0])
	f, err := excelize.OpenFile(path)
	ts.Check(err)
	for i := 1; i < len(args); i += 2 {
		sheet, cell, ok := strings.Cut(args[i], "!")
		if !ok {
			ts.Fatalf("%s is no Sheet!Cell", args[i])
		}
		if n, err := f.GetSheetIndex(sheet); err != nil || n < 0 {
			_, err = f.NewSheet(sheet)
			ts.Check(err)
		}
		ts.Check(editCell(f, sheet, cell, args[i+1]))
	}
	ts.Check(lightly(f).Save())
}

// lightly has a workbook packed without pressing it when it is saved: tests edit many, and their size is nothing to them.
func lightly(f *excelize.File) *excelize.File {
	return f.SetZipWriter(func(w io.Writer) excelize.ZipWriter {
		z := zip.NewWriter(w)
		z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.NoCompression) })
		return z
	})
}

func editCell(f *excelize.File, sheet, cell, value string) error {
	switch {
	case strings.HasPrefix(value, "="):
		if err := f.SetCellValue(sheet, cell, nil); err != nil {
			return err
		}
		return f.SetCellFormula(sheet, cell, value[1:])
	case strings.HasPrefix(value, "~"):
		return f.SetCellStr(sheet, cell, value[1:])
	case strings.HasPrefix(value, "merge:"):
		return f.MergeCell(sheet, cell, value[len("merge:"):])
	case value == "clear:":
		return f.SetCellValue(sheet, cell, nil)
	case strings.HasPrefix(value, "row:"):
		_, row, err := excelize.CellNameToCoordinates(cell)
		if err != nil {
			return err
		}
		n, err := strconv.Atoi(value[len("row:"):])
		if err != nil {
			return err
		}
		return f.InsertRows(sheet, row, n)
	}
	if n, err := strconv.ParseFloat(value, 64); err == nil {
		return f.SetCellFloat(sheet, cell, n, -1, 64)
	}
	return f.SetCellStr(sheet, cell, value)
}

// dumpWorkbook is `xlsxdump FILE Sheet`: every cell of the sheet as cell, value and formula, on standard output.
func dumpWorkbook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: xlsxdump FILE Sheet")
	}
	f, err := excelize.OpenFile(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	rows, err := f.GetRows(args[1])
	ts.Check(err)
	for r, row := range rows {
		for c, v := range row {
			if v != "" {
				cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
				fmt.Fprintf(ts.Stdout(), "%s\t%s\n", cell, v)
			}
		}
	}
}

// sameFile is `same A B`: the two files are equal byte for byte; `! same` that they are not.
func sameFile(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: same A B")
	}
	a, err := os.ReadFile(ts.MkAbs(args[0]))
	ts.Check(err)
	b, err := os.ReadFile(ts.MkAbs(args[1]))
	ts.Check(err)
	if (string(a) == string(b)) == neg {
		ts.Fatalf("same %v: %v", args, !neg)
	}
}

// narrow is `narrow FILE`: no line is longer than 80 characters, but for the caution's; a file, stdout or stderr.
func narrow(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: narrow FILE")
	}
	for _, line := range strings.Split(ts.ReadFile(args[0]), "\n") {
		if n := utf8.RuneCountInString(line); n > term.Width && !strings.Contains(report.Caution, line) {
			ts.Fatalf("%d wide: %s", n, line)
		}
	}
}

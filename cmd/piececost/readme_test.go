package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
)

const readme = "../../README.md"

// TestReadme follows README.md as a newcomer would: runs its commands, types its tables into the workbook, and compares
// what README says the commands print. A line "..." stands for any lines.
func TestReadme(t *testing.T) {
	raw, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	recipe := demoRecipe(t)
	t.Chdir(t.TempDir())
	if err := os.Mkdir("demo", 0o755); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(raw), "\n")
	book := ""
	for i := 0; i < len(lines); i++ {
		switch m := sheetLine.FindStringSubmatch(lines[i]); {
		case m != nil:
			typeTable(t, book, m[1], tableAt(lines, i+2), m[2] != "")
		case lines[i] == "```console":
			end := i + 1
			for lines[end] != "```" {
				end++
			}
			for _, line := range lines[i+1 : end] {
				if made := madeLine.FindStringSubmatch(line); made != nil {
					book = made[1]
				}
			}
			runBlock(t, lines[i+1:end], recipe)
			i = end
		}
	}
}

// madeLine names the workbook into which the tables below are typed.
var madeLine = regexp.MustCompile(`^Made (\S+\.xlsx)$`)

var sheetLine = regexp.MustCompile(`^Sheet \*\*(.+)\*\*(, below the others)?:$`)

// demoRecipe returns the program's commands in the Makefile's target demo.
func demoRecipe(t *testing.T) []string {
	raw, err := os.ReadFile("../../Makefile")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(raw), "\ndemo:")
	rest, _, _ = strings.Cut(rest, "\n\n")
	var out []string
	for _, line := range strings.Split(rest, "\n") {
		if command, ok := strings.CutPrefix(strings.TrimSpace(line), "bin/"); ok {
			out = append(out, command)
		}
	}
	if len(out) != 2 {
		t.Fatalf("the target demo has %d commands of the program", len(out))
	}
	return out
}

// runBlock runs the commands of a console block and compares their output with the lines below each.
func runBlock(t *testing.T, lines []string, recipe []string) {
	var want []string
	var command string
	flush := func() {
		if command == "" {
			return
		}
		got := runCommand(t, command, recipe)
		if !matchesLines(want, strings.Split(strings.TrimRight(got, "\n"), "\n")) {
			t.Errorf("README: $ %s prints\n%s\nnot\n%s", command, got, strings.Join(want, "\n"))
		}
	}
	for _, line := range lines {
		if c, ok := strings.CutPrefix(line, "$ "); ok {
			flush()
			command, want = c, nil
			continue
		}
		want = append(want, line)
	}
	flush()
}

func runCommand(t *testing.T, command string, recipe []string) string {
	commands := []string{command}
	if command == "make demo" {
		commands = recipe
	}
	var stdout bytes.Buffer
	for _, c := range commands {
		args := words(c)
		if args[0] != "piececost" {
			t.Fatalf("README runs %q", c)
		}
		var stderr bytes.Buffer
		if code := run(args[1:], strings.NewReader(""), &stdout, &stderr); code != 0 {
			t.Fatalf("README: %s ends with %d: %s", c, code, stderr.String())
		}
	}
	return stdout.String()
}

// words splits a command; blanks within quotation marks part nothing.
func words(command string) []string {
	var out []string
	for i, part := range strings.Split(command, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}

// matchesLines compares with "..." standing for any number of lines.
func matchesLines(want, got []string) bool {
	if len(want) == 0 {
		return len(got) == 0 || len(got) == 1 && got[0] == ""
	}
	if want[0] == "..." {
		for skip := 0; skip <= len(got); skip++ {
			if matchesLines(want[1:], got[skip:]) {
				return true
			}
		}
		return false
	}
	return len(got) > 0 && strings.TrimRight(want[0], " ") == strings.TrimRight(got[0], " ") && matchesLines(want[1:], got[1:])
}

// tableAt reads a table of the README.
func tableAt(lines []string, from int) [][]string {
	var out [][]string
	for i := from; i < len(lines) && strings.HasPrefix(lines[i], "|"); i++ {
		var row []string
		for _, c := range strings.Split(strings.Trim(lines[i], "|"), "|") {
			row = append(row, strings.TrimSpace(c))
		}
		if !strings.HasPrefix(row[0], "---") {
			out = append(out, row)
		}
	}
	return out
}

// typeTable types a table of the README into the workbook that it made last: under the headings of the sheet, or beside the quantities of Case,
// Plants and Scenarios; below the rows that are there, a heading that is not there goes to the right of the others.
func typeTable(t *testing.T, book, sheet string, cells [][]string, below bool) {
	f, err := excelize.OpenFile(book)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := f.GetRows(sheet)
	if err != nil || len(cells) < 2 {
		t.Fatalf("README types into sheet %q: %v", sheet, err)
	}
	column := func(heading string) int {
		for i, h := range rows[0] {
			if h == heading {
				return i + 1
			}
		}
		if below {
			rows[0] = append(rows[0], heading)
			typeCell(t, f, sheet, len(rows[0]), 1, heading)
			return len(rows[0])
		}
		t.Fatalf("README: sheet %s has no column %q", sheet, heading)
		return 0
	}
	first := 2
	for i, row := range rows {
		if below && strings.Join(row[:min(len(row), len(rows[0]))], "") != "" { // a guide may stand beside the columns
			first = i + 2
		}
	}
	for n, row := range cells[1:] {
		at := n + first
		if l := table.LayoutOf(sheet); l.Shape == table.ColumnsAre {
			key := column(cells[0][0])
			at = 0
			for i, r := range rows {
				if len(r) >= key && r[key-1] == row[0] {
					at = i + 1
				}
			}
			if at == 0 {
				t.Fatalf("README: sheet %s has no row %q", sheet, row[0])
			}
		}
		for i, text := range row {
			typeCell(t, f, sheet, column(cells[0][i]), at, text)
		}
	}
	if err := f.Save(); err != nil {
		t.Fatal(err)
	}
}

// typeCell enters a text as a spreadsheet program would take it: 8% is the number 0.08.
func typeCell(t *testing.T, f *excelize.File, sheet string, col, row int, text string) {
	if text == "" {
		return
	}
	cell, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		t.Fatal(err)
	}
	var value any = text
	if n, err := strconv.ParseFloat(strings.TrimSuffix(text, "%"), 64); err == nil {
		value = n
		if strings.HasSuffix(text, "%") {
			value = n / 100
		}
	}
	if err := f.SetCellValue(sheet, cell, value); err != nil {
		t.Fatal(err)
	}
}

// TestReadmeNamesEveryCommand holds README's table of commands against the program.
func TestReadmeNamesEveryCommand(t *testing.T) {
	raw, err := os.ReadFile(filepath.FromSlash(readme))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range newRoot().Commands() {
		if !c.Hidden && !strings.Contains(string(raw), "| `piececost "+c.Name()) {
			t.Errorf("README does not list the command %s", c.Name())
		}
		if c.Example == "" || c.Long == "" {
			t.Errorf("%s has no example or no description in its help", c.Name())
		}
	}
}

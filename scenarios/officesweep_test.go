package scenarios

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// A spreadsheetSweep has LibreOffice put volumes into a live workbook one by one, through its own programming interface,
// and read the results after each. A macro in Basic does it (testdata/office/sweep.bas), so that nothing but the
// spreadsheet program is needed.
type spreadsheetSweep struct {
	workbook     string
	recalculated string // "all": every formula; "dependents": what the volumes change; "read": of that only what is read
	volumes      []float64
}

// A sweptSpreadsheet is what came back, the first volume not timed; starting and loading are not in the times.
type sweptSpreadsheet struct {
	recalculating, reading time.Duration // a volume
	values                 [][]float64   // by volume: the elements and the piece cost, each of every scenario
}

// run has the macro do the job and reads its answer.
func (s spreadsheetSweep) run(t testing.TB) *sweptSpreadsheet {
	t.Helper()
	return s.readAnswer(t, runMacro(t, "sweep.bas", "PIECECOST_SWEEP", func(answer string) string { return s.job(t, answer) }))
}

// runMacro makes a profile, puts a macro of testdata/office into it and runs it with a job, which names the file of the answer;
// it returns the answer. LibreOffice overwrites the macros of a profile that it starts for the first time, so there are two
// starts.
func runMacro(t testing.TB, source, variable string, jobOf func(answer string) string) string {
	t.Helper()
	if _, err := exec.LookPath("soffice"); err != nil {
		words := "LibreOffice is not installed (Debian: libreoffice-calc-nogui); it does NOT run " + source
		fmt.Fprintln(os.Stderr, t.Name()+": "+words) // a benchmark swallows the reason
		t.Skip(words)
	}
	dir := t.TempDir()
	profile, job, answer := filepath.Join(dir, "profile"), filepath.Join(dir, "job.txt"), filepath.Join(dir, "answer.txt")
	runOffice(t, office(profile, "--terminate_after_init"))
	writeMacro(t, filepath.Join("..", "testdata", "office", source), filepath.Join(profile, "user", "basic", "Standard", "Module1.xba"))
	if err := os.WriteFile(job, []byte(jobOf(answer)), 0o644); err != nil {
		t.Fatal(err)
	}
	macro := office(profile, "macro:///Standard.Module1.Main")
	macro.Env = append(os.Environ(), variable+"="+job)
	runOffice(t, macro)
	text, err := os.ReadFile(answer)
	if err != nil {
		t.Fatalf("the macro gave no answer: %v", err)
	}
	return string(text)
}

func runOffice(t testing.TB, c *exec.Cmd) {
	t.Helper()
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // soffice is a script: its child must end with it
	hung := time.AfterFunc(officeHangs, func() {
		if c.Process != nil {
			_ = syscall.Kill(-c.Process.Pid, syscall.SIGKILL)
		}
	})
	defer hung.Stop()
	if text, err := c.CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v: %s", err, text)
	}
}

// officeHangs is when a macro that waits for a person who is not there is ended; it is no bound on its work.
const officeHangs = 20 * time.Minute

// writeMacro writes the macro in the form in which LibreOffice keeps it.
func writeMacro(t testing.TB, from, path string) {
	t.Helper()
	source, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	b.WriteString(xml.Header + `<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Module1" script:language="StarBasic">`)
	if err := xml.EscapeText(&b, source); err != nil {
		t.Fatal(err)
	}
	b.WriteString("</script:module>\n")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// job says to the macro where volumes and results stand.
func (s spreadsheetSweep) job(t testing.TB, answer string) string {
	first, last, scenarios := summaryBlock(t, s.workbook)
	lines := []string{s.workbook, answer, s.recalculated,
		"Scenarios", fmt.Sprintf("D2:%s2", table.ColumnName(3+scenarios)),
		summarySheet, fmt.Sprintf("B%d:%s%d", first, table.ColumnName(1+scenarios), last)}
	for _, v := range s.volumes {
		lines = append(lines, strconv.FormatFloat(v, 'f', -1, 64))
	}
	return strings.Join(lines, "\n") + "\n"
}

// summaryBlock finds the rows from the first element to the unrounded piece cost, and the number of scenarios.
func summaryBlock(t testing.TB, workbook string) (first, last, scenarios int) {
	t.Helper()
	cells := summaryCells(t, workbook)
	for at, c := range cells {
		switch c.Value {
		case "Material":
			first = at[0]
		case "Piece cost, unrounded":
			last = at[0]
		}
	}
	for cells[[2]int{last, 2 + scenarios}].Value != "" {
		scenarios++
	}
	if last-first != len(libraryElements()) || scenarios == 0 {
		t.Fatalf("the summary has elements from row %d, the piece cost in row %d, %d scenarios", first, last, scenarios)
	}
	return first, last, scenarios
}

func summaryCells(t testing.TB, workbook string) map[[2]int]ooxml.Cell {
	t.Helper()
	out := map[[2]int]ooxml.Cell{}
	for _, c := range readSummary(t, workbook) {
		out[[2]int{c.Row, c.Col}] = c
	}
	return out
}

// readAnswer reads what the macro wrote.
func (s spreadsheetSweep) readAnswer(t testing.TB, text string) *sweptSpreadsheet {
	t.Helper()
	head, rest, _ := strings.Cut(strings.ReplaceAll(text, "\r", ""), "\n")
	var calculating, reading int64
	if _, err := fmt.Sscanf(head, "milliseconds %d %d", &calculating, &reading); err != nil {
		t.Fatalf("the macro says %q", text)
	}
	timed := time.Duration(len(s.volumes) - 1)
	out := &sweptSpreadsheet{recalculating: time.Duration(calculating) * time.Millisecond / timed, reading: time.Duration(reading) * time.Millisecond / timed}
	for _, line := range strings.Split(strings.TrimSpace(rest), "\n") {
		var values []float64
		for _, word := range strings.Fields(line) {
			v, err := strconv.ParseFloat(word, 64)
			if err != nil {
				t.Fatalf("the macro read %q: %s", word, line)
			}
			values = append(values, v)
		}
		out.values = append(out.values, values)
	}
	return out
}

// compare holds what LibreOffice read against the engine's sweeps, scenario by scenario: every element and the piece cost
// at every volume, to 1e-9 of the piece cost.
func (s *sweptSpreadsheet) compare(t testing.TB, sweeps []*costmodel.Sweep) {
	t.Helper()
	for i, volume := range sweeps[0].Volumes {
		if len(s.values) != len(sweeps[0].Volumes) || len(s.values[i]) != (1+len(libraryElements()))*len(sweeps) {
			t.Fatalf("%d lines of values for %d volumes", len(s.values), len(sweeps[0].Volumes))
		}
		for k, sweep := range sweeps {
			for row := range 1 + len(libraryElements()) {
				want, got := sweep.Columns[(1+row)%(1+len(libraryElements()))][i], s.values[i][row*len(sweeps)+k]
				if d := got - want; !(max(d, -d) <= 1e-9*sweep.Columns[0][i]) {
					t.Fatalf("%s at %v per year, line %d of the summary: LibreOffice %v, engine %v", sweep.Scenario.Name, volume, row+1, got, want)
				}
			}
		}
	}
}

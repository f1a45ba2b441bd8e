package main

import (
	"bytes"
	"errors"
	"flag"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

var signalsSent = flag.Int("signals", 12, "signals that TestSignals sends at random moments")

// asProgram is the variable that makes the test binary the program.
const asProgram = "PIECECOST_TEST_AS_PROGRAM"

// TestSignals sends a signal at a random moment to commands that take a while. Each ends with 130 and the workbook as it was,
// or as a finished run whose workbook can be read; no unfinished file is left behind.
func TestSignals(t *testing.T) {
	dir := t.TempDir()
	fresh := filepath.Join(dir, "fresh.xlsx")
	wordsCommand(t, 0, "new", "--sample", "battery-tray", fresh)
	before, err := os.ReadFile(fresh)
	if err != nil {
		t.Fatal(err)
	}
	commands := [][]string{
		{"run", "tray.xlsx"}, {"run", "tray.xlsx", "-o", "out.xlsx", "--replace"}, {"crossover", "tray.xlsx", "--from", "1", "--to", "1000000"},
		{"crossover", "tray.xlsx", "--stability", "--scenario", "C"}, {"solve", "tray.xlsx", "--scenario", "B", "--equals", "A"},
		{"sensitivity", "tray.xlsx", "--difference", "A,C"}, {"volumes", "tray.xlsx"}, {"combine", "tray.xlsx", "--volume", "60000"}, {"check", "tray.xlsx"},
		{"map", "tray.xlsx", "--x", "Annual volume", "--x-range", "5000:300000:900:ratio", "--y", "Materials/M04/Base price", "--y-range",
			"0.4:2:900", "--csv"},
		{"compare", "tray.xlsx", "--equipment-allocation"}, {"sweep", "tray.xlsx", "--from", "1", "--to", "1000000", "--points", "1000000", "--csv"},
	}
	r := rand.New(rand.NewPCG(130, 2))
	counts := map[int]int{}
	for i := range *signalsSent {
		at := filepath.Join(dir, "at")
		if err := errors.Join(os.RemoveAll(at), os.Mkdir(at, 0o755), os.WriteFile(filepath.Join(at, "tray.xlsx"), before, 0o644)); err != nil {
			t.Fatal(err)
		}
		args := commands[i%len(commands)]
		code, words := signalled(t, at, args, time.Duration(r.Int64N(int64(1200*time.Millisecond))))
		counts[code]++
		what := strings.Join(args, " ")
		after, err := os.ReadFile(filepath.Join(at, "tray.xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		switch same := bytes.Equal(before, after); {
		case code == -1 && same: // the signal came before the program had begun, and ended it as it ends any
		case code == exitStopped && !same:
			t.Errorf("%s: stopped, and the workbook has changed: %s", what, words)
		case code == exitStopped && !strings.Contains(words, "stopped; nothing was written"):
			t.Errorf("%s: stopped without a word: %s", what, words)
		case code != exitStopped && code != 0:
			t.Errorf("%s: exit code %d: %s", what, code, words)
		case !same:
			wordsCommand(t, 0, "check", filepath.Join(at, "tray.xlsx"))
		}
		for _, e := range left(t, at) {
			if name := e.Name(); name != "tray.xlsx" && (name != "out.xlsx" || code == exitStopped) {
				t.Errorf("%s: %s is left behind with code %d", what, name, code)
			}
		}
	}
	t.Logf("%d signals, exit codes %v", *signalsSent, counts)
	if counts[exitStopped] < *signalsSent/4 {
		t.Errorf("only %d of %d signals stopped anything", counts[exitStopped], *signalsSent)
	}
}

func left(t *testing.T, dir string) []os.DirEntry {
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// signalled runs the program and sends it a signal after a while; it returns how the program ended.
func signalled(t *testing.T, dir string, args []string, after time.Duration) (code int, words string) {
	t.Helper()
	c := exec.Command(os.Args[0], args...)
	c.Dir, c.Env = dir, append(os.Environ(), asProgram+"=1")
	var errs bytes.Buffer
	c.Stderr = &errs
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(after)
	_ = c.Process.Signal([]os.Signal{os.Interrupt, syscall.SIGTERM}[after%2]) // it may have ended
	err := c.Wait()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return c.ProcessState.ExitCode(), errs.String()
}

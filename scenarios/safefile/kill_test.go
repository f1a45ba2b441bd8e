//go:build unix

package safefile_test

import (
	"bufio"
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"piececost/scenarios/safefile"
)

const killEnv = "PIECECOST_SAVE_FOR_KILL_TEST"

// content is a file of some megabytes that tells in each byte which one it is.
func content(letter byte) []byte { return bytes.Repeat([]byte{letter}, 3<<20) }

// TestMain saves without end where it is asked to: the process that TestKilled kills.
func TestMain(m *testing.M) {
	path := os.Getenv(killEnv)
	if path == "" {
		os.Exit(m.Run())
	}
	for i := 0; ; i++ {
		data := content('a' + byte(i%2))
		fmt.Println("saving")
		if err := safefile.Write(safefile.OS{}, path, data, safefile.Options{Replace: true}); err != nil {
			fmt.Println(err)
			os.Exit(3)
		}
	}
}

// TestKilled kills a process 50 times while it saves: the file is always one of the two whole ones. Unfinished files that
// stay behind prove that the kills fell inside the save, and a later save removes them.
func TestKilled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	if err := os.WriteFile(path, content('a'), 0o644); err != nil {
		t.Fatal(err)
	}
	a, b := safefile.SumOf(content('a')), safefile.SumOf(content('b'))
	inside, seen := 0, map[safefile.Sum]int{}
	const kills = 50
	for range kills {
		saveAndKill(t, path)
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		sum := safefile.SumOf(data)
		if sum != a && sum != b {
			t.Fatalf("the file is neither of the two: %d bytes", len(data))
		}
		seen[sum]++
		left := others(t, path)
		inside += min(1, len(left))
		for _, name := range left { // as if an hour had passed
			old := time.Now().Add(-2 * time.Hour)
			must(t, os.Chtimes(filepath.Join(filepath.Dir(path), name), old, old))
		}
	}
	t.Logf("%d of %d kills left an unfinished file; old or new: %d and %d", inside, kills, seen[a], seen[b])
	if inside < kills/2 {
		t.Errorf("only %d of %d kills fell inside a save", inside, kills)
	}
	must(t, safefile.Write(safefile.OS{}, path, content('c'), safefile.Options{Replace: true}))
	if left := others(t, path); len(left) > 0 {
		t.Errorf("left behind %v", left)
	}
}

// saveAndKill starts the process and kills it some milliseconds after a save has begun.
func saveAndKill(t *testing.T, path string) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), killEnv+"="+path)
	out, err := cmd.StdoutPipe()
	must(t, err)
	must(t, cmd.Start())
	lines := bufio.NewScanner(out)
	for n := 1 + rand.IntN(3); n > 0 && lines.Scan(); n-- {
		if lines.Text() != "saving" {
			t.Fatal(lines.Text())
		}
	}
	time.Sleep(time.Duration(rand.IntN(8000)) * time.Microsecond)
	must(t, cmd.Process.Kill())
	_ = cmd.Wait()
}

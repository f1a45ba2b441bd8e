package scenarios

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel"
)

// readWithoutLonghand reads the files of processes that longhand does not reckon, so that no case would notice a change of them:
// below a reason, which begins with #, a file on a line.
func readWithoutLonghand(t testing.TB) map[string]bool {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(secondCaseDir, "without-longhand.txt"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, line := range strings.Split(string(raw), "\n") {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			out[line] = true
		}
	}
	return out
}

// TestWithoutLonghandIsExact: the list that TestMutants leaves out names every process without longhand and no other.
func TestWithoutLonghandIsExact(t *testing.T) {
	listed := readWithoutLonghand(t)
	for _, p := range testLibrary(t).Processes {
		if has := hasLonghand(p); has == listed[p.File] {
			t.Errorf("%s: has longhand %v, is listed as without %v", p.File, has, listed[p.File])
		}
		delete(listed, p.File)
	}
	for file := range listed {
		t.Errorf("%s is no process", file)
	}
}

func hasLonghand(p *costmodel.Template) bool {
	if p.Name == "timed operation" {
		return true
	}
	return slices.ContainsFunc(append(slices.Clone(p.Aliases), p.Name), func(name string) bool { return longProcesses[name] != nil })
}

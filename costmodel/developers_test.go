package costmodel_test

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// namedPath is what looks like a path of a file, or of a folder, in the architecture page.
var namedPath = regexp.MustCompile(
	`[\w*./-]*\w[\w*]*\.(?:go|txt)\b|(?:templates|testdata)/[\w*./-]*\w\.(?:yaml|bas)\b|\b(?:cmd|costmodel|scenarios|templates|testdata)/[\w*/-]*\w`)

// TestDevelopersNamesWhatExists holds the architecture page against the tree: a file or folder that it names is there, from
// the root, beside the file named before it, or as the end of one path alone, so that a reader finds it.
func TestDevelopersNamesWhatExists(t *testing.T) {
	raw, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	there := pathsOfTree(t)
	folder, named := "", 0
	for _, name := range namedPath.FindAllString(string(raw), -1) {
		found := leadsTo(there, folder, name)
		if len(found) == 0 {
			t.Errorf("DEVELOPERS.md names %s, which is not there", name)
		} else if len(found) > 1 && !strings.Contains(name, "*") {
			t.Errorf("DEVELOPERS.md names %s, which may be %s", name, strings.Join(found, ", "))
		} else if strings.HasSuffix(name, ".go") {
			folder = path.Dir(found[0])
		}
		named++
	}
	if named < 100 {
		t.Errorf("only %d paths named", named)
	}
}

// pathsOfTree are the paths of all files and folders from the root.
func pathsOfTree(t *testing.T) []string {
	var out []string
	err := filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && d.Name() == ".git" {
			return fs.SkipDir
		}
		out = append(out, strings.TrimPrefix(filepath.ToSlash(file), "../"))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// leadsTo are the paths that a name may mean: the one from the root, else the one beside the file before it, else all that
// end with it.
func leadsTo(there []string, folder, name string) []string {
	if found := matching(there, name); found != nil {
		return found
	}
	if found := matching(there, path.Join(folder, name)); found != nil {
		return found
	}
	var out []string
	for _, p := range there {
		parts := strings.Split(p, "/")
		if n := strings.Count(name, "/") + 1; len(parts) > n {
			if ok, _ := path.Match(name, strings.Join(parts[len(parts)-n:], "/")); ok {
				out = append(out, p)
			}
		}
	}
	return out
}

func matching(there []string, pattern string) (out []string) {
	for _, p := range there {
		if ok, _ := path.Match(pattern, p); ok {
			out = append(out, p)
		}
	}
	return out
}

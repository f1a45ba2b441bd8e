package scenarios

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// publishedTried is how many published examples were tried: those of the lists that this work began with.
const publishedTried = 167

// TestPublishedCount: each example that was tried is either an archive or a line of not-reproduced.txt below its reason, and none is both.
func TestPublishedCount(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join(publishedDir, "*.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, path := range paths {
		seen[strings.TrimSuffix(filepath.Base(path), ".txtar")] = true
	}
	delete(seen, "P42") // own examples
	delete(seen, "B01")
	reproduced := len(seen)
	raw, err := os.ReadFile(filepath.Join(publishedDir, "not-reproduced.txt"))
	if err != nil {
		t.Fatal(err)
	}
	line, reason, byReason := regexp.MustCompile(`^([A-Z][0-9]{2}) \S`), "", map[string]int{}
	for i, text := range strings.Split(string(raw), "\n") {
		switch f := line.FindStringSubmatch(text); {
		case text == "":
			reason = ""
		case text[0] == '#':
			reason = strings.TrimPrefix(text, "# ")
		case f == nil || reason == "":
			t.Errorf("line %d is neither a reason nor an example below one: %s", i+1, text)
		case seen[f[1]]:
			t.Errorf("%s stands twice, or is an archive as well", f[1])
		default:
			seen[f[1]] = true
			byReason[reason]++
		}
	}
	if len(seen) != publishedTried {
		t.Errorf("%d examples, %d were tried", len(seen), publishedTried)
	}
	t.Logf("%d of %d reproduced", reproduced, publishedTried)
	for reason, n := range byReason {
		t.Logf("%d: %s", n, reason)
	}
}

package table

import (
	"fmt"
	"strings"
	"testing"
)

// TestDiagnosticsBeyondBound holds that findings that are not kept are said, once, for warnings and for errors, and that
// errors find room beside warnings.
func TestDiagnosticsBeyondBound(t *testing.T) {
	at := func(row int) Place { return Place{File: "a.xlsx", Sheet: "Parts", Row: row, Col: 1} }
	for _, c := range []struct {
		warnings, errors int
		said             []string
	}{
		{mostKept, 1, []string{"a.xlsx: warning: there are more than 20000 findings; further warnings are not listed"}},
		{mostKept - 1, 0, nil},
		{2 * mostKept, mostKept - 1, []string{"further warnings are not listed"}},
		{0, 3 * mostKept, []string{"further warnings are not listed", "there are more than 40000 findings; further ones are not listed"}},
		{3 * mostKept, 3 * mostKept, []string{"further warnings are not listed", "further ones are not listed"}},
	} {
		var ds Diagnostics
		for i := range c.warnings {
			ds.Warn("w", at(i+1), fmt.Sprintf("warning %d", i), "")
		}
		for i := range c.errors {
			ds.Add("e", at(i+1), fmt.Sprintf("error %d", i), "")
		}
		var said []string
		for _, d := range ds.Sorted() {
			if d.Code == "more" {
				said = append(said, d.String())
			}
		}
		text := strings.Join(said, "\n")
		for _, want := range c.said {
			if !strings.Contains(text, want) {
				t.Errorf("%d warnings, %d errors: %q is not said", c.warnings, c.errors, want)
			}
		}
		if len(said) != len(c.said) {
			t.Errorf("%d warnings, %d errors: said is %q", c.warnings, c.errors, said)
		}
		if c.errors > 0 && !ds.HasErrors() {
			t.Error("the error found no room beside the warnings")
		}
	}
}

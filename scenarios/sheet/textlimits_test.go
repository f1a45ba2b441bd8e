package sheet

import (
	"strings"
	"testing"
)

// TestSheetNames holds the names of sheets that are made of others: at most 31 characters in UTF-16, told apart, none
// forbidden.
func TestSheetNames(t *testing.T) {
	taken := map[string]bool{}
	for _, c := range []struct{ text, want string }{
		{"piececost Costed bill of materials", "piececost Costed bill of materi"},
		{"piececost Costed bill of materials", "piececost Costed bill of mate 2"},
		{"PIECECOST COSTED BILL of materials", "PIECECOST COSTED BILL of mate 3"},
		{"Calculation " + strings.Repeat("🚀", 20), "Calculation " + strings.Repeat("🚀", 9)},
		{"a\nb:c'", "a-b-c-"},
		{"s", "s"},
		{"ſ", "ſ 2"},
	} {
		if got := NameOf(c.text, taken); got != c.want {
			t.Errorf("%q makes %q, wanted %q", c.text, got, c.want)
		}
	}
}

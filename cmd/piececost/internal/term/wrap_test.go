package term

import (
	"os"
	"strings"
	"testing"
	"unicode/utf8"
)

// TestWrap: lines keep to the width of the output, which is 80 columns where it is no terminal; nothing of the text is lost.
func TestWrap(t *testing.T) {
	text := strings.TrimSpace(strings.Repeat("Wanne für Görlitz, ", 20)) + " " + strings.Repeat("x", 200)
	for _, width := range []int{Width, 60, 120} {
		var out strings.Builder
		if Wrap(Page{&out, width}, "- ", "    ", text); width == Width {
			var plain strings.Builder
			if Wrap(&plain, "- ", "    ", text); plain.String() != out.String() {
				t.Errorf("no page: %q, want %q", plain.String(), out.String())
			}
		}
		lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
		longest := 0
		for i, l := range lines {
			longest = max(longest, utf8.RuneCountInString(l))
			if indent := "    "; i > 0 && !strings.HasPrefix(l, indent) || strings.TrimRight(l, " ") != l {
				t.Errorf("line %d: %q", i, l)
			}
		}
		if longest > width || longest < width-5 {
			t.Errorf("%d wide, room for %d:\n%s", longest, width, out.String())
		}
		letters := strings.NewReplacer(" ", "", "\n", "", "-", "").Replace
		if letters(out.String()) != letters(text) {
			t.Errorf("text lost:\n%s", out.String())
		}
	}
}

// TestWrapList: things stay whole, letters that are two bytes count once.
func TestWrapList(t *testing.T) {
	var out strings.Builder
	WrapList(Page{&out, 20}, "  ", []string{"äöü äöü", "äöü äöü", "one", "a thing that is longer than a line"})
	if want := "  äöü äöü, äöü äöü,\n  one,\n  a thing that is longer than a line\n"; out.String() != want {
		t.Errorf("%q, want %q", out.String(), want)
	}
}

// TestNoTerminal: what is no terminal has the usual width, also the device that swallows everything.
func TestNoTerminal(t *testing.T) {
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	if IsTerminal(null) || Columns(null) != Width {
		t.Errorf("%s is a terminal of %d columns", os.DevNull, Columns(null))
	}
	if IsTerminal(&strings.Builder{}) || Columns(&strings.Builder{}) != Width {
		t.Error("a text is a terminal")
	}
}

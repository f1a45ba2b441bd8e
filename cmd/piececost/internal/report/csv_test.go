package report

import (
	"math"
	"strings"
	"testing"
)

// TestCSVText holds that no text of a user's is computed by the program that opens the CSV.
func TestCSVText(t *testing.T) {
	for text, want := range map[string]string{
		"A baseline": "A baseline", "": "", "a,b": `"a,b"`, `say "x"`: `"say ""x"""`, "two\nlines": "\"two\nlines\"",
		"=1+1": "'=1+1", "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t=1", `=HYPERLINK("x","y")`: `"'=HYPERLINK(""x"",""y"")"`,
	} {
		var out strings.Builder
		table := newCSV(&out, "head", text)
		table.row("cell", text)
		table.flush()
		if want := "head," + want + "\ncell," + want + "\n"; out.String() != want {
			t.Errorf("%q is %q, want %q", text, out.String(), want)
		}
	}
}

// TestCSVNumbers: a number is no text, so that a negative one stays a number; none is an empty cell.
func TestCSVNumbers(t *testing.T) {
	var out strings.Builder
	table := newCSV(&out, "a")
	table.row(-1.5, -3, math.NaN(), 1e21, true, "")
	table.flush()
	if want := "a\n-1.5,-3,,1000000000000000000000,true,\n"; out.String() != want {
		t.Errorf("%q, want %q", out.String(), want)
	}
}

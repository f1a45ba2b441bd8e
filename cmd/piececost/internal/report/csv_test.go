package report

import "testing"

// TestCSVText holds that no text of a user's is computed by the program that opens the CSV.
func TestCSVText(t *testing.T) {
	for text, want := range map[string]string{
		"A today": "A today", "": "", "a,b": `"a,b"`, `say "x"`: `"say ""x"""`,
		"=1+1": "'=1+1", "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t=1", `=HYPERLINK("x","y")`: `"'=HYPERLINK(""x"",""y"")"`,
	} {
		if got := csvText(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

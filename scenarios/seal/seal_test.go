package seal_test

import (
	"strings"
	"testing"

	"piececost/scenarios/seal"
)

// rewritten are formulas as we write them and as a spreadsheet program may give them back; the second of LibreOffice 7.4
// is as seen in its saved files.
var rewritten = []struct{ written, back string }{
	{"A1+B2*1E-9", "A1 + B2*0.000000001"},
	{"IF(A1>0,1,0)", "if(A1>0,1,0)"},
	{"'Bill of materials'!C5*Parts!$A$1", "'Bill of materials'!C5*'Parts'!A1"},
	{"SUM($A$1:$A$9)", "SUM(A1:A9)"},
	{"Parts!A1:B2", "Parts!A1:Parts!B2"},
	{"IF(TRUE,1,0)", "IF(TRUE(),1,0)"},
	{`IF(A1="a ""b""",1,2)`, `IF(A1="a ""b""",1,2)`},
	{"0.0833333333333333333", "0.08333333333333333"},
	{"Own!A1", "A1"},
	{"-INT(1E-9-A1)", "-INT(0.000000001-A1)"},
	{"_xlfn.CONCAT(A1)", "CONCAT(A1)"},
}

func TestRewritten(t *testing.T) {
	for _, c := range rewritten {
		a, okA := seal.Canonical("Own", c.written, seal.Stay)
		b, okB := seal.Canonical("Own", c.back, seal.Stay)
		if !okA || !okB || a != b {
			t.Errorf("%s is %q, %s is %q", c.written, a, c.back, b)
		}
	}
}

// TestDifferent holds what a person may do to a formula: each is another one.
func TestDifferent(t *testing.T) {
	all := []string{"A1+B1", "A1-B1", "A1+B2", "A1+B1*1.1", "A1+B1*1.10000001", "A1+B1+0", "B1+A1", "Parts!A1+B1", "'Parts 2'!A1+B1", "A1:B1", "(A1+B1)",
		`A1&"x"`, `A1&"X"`, "A1^B1", "A1<B1", "A1<=B1", "A1<>B1", "A1%", "A:A", "1:1", "R1", "AB12", "rate*2", "MIN(A1,B1)", "MAX(A1,B1)"}
	seen := map[string]string{}
	for _, f := range all {
		p, ok := new(seal.Scribe).Fingerprint("Own", f, seal.Stay)
		if old, twice := seen[p]; twice || !ok {
			t.Errorf("%s has the fingerprint of %s", f, old)
		}
		seen[p] = f
	}
	if seal.OfNumber(1) == seal.OfKey("1") {
		t.Error("a number has the fingerprint of a key")
	}
}

// TestMoved follows references through inserted rows and columns and a renamed sheet.
func TestMoved(t *testing.T) {
	move := func(sheet string, c seal.Cell) (string, seal.Cell) {
		if sheet == "Renamed" {
			sheet = "Parts"
		}
		if c.Row > 3 {
			c.Row -= 2
		}
		if c.Col > 2 {
			c.Col--
		}
		return sheet, c
	}
	want, _ := seal.Canonical("Own", "Parts!B2+Parts!C4+D7+SUM(C4:D7)+SUM(E:E)", seal.Stay)
	got, _ := seal.Canonical("Own", "Renamed!B2+Renamed!D6+E9+SUM(D6:E9)+SUM(F:F)", move)
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if _, ok := seal.Canonical("Own", "A1+#REF!", seal.Stay); ok {
		t.Error("a broken reference is taken for a formula")
	}
	if _, ok := seal.Canonical("Own", "A1+Parts!#REF!", seal.Stay); ok {
		t.Error("a broken reference on a sheet is taken for a formula")
	}
}

func TestRows(t *testing.T) {
	r := seal.Fingerprints{2: "aaaa", 3: "bbbb", 7: "cccc"}
	text := r.String()
	if text != "2:aaaabbbb 7:cccc" {
		t.Error(text)
	}
	back, ok := seal.Parse(text)
	if !ok || len(back) != 3 || back[3] != "bbbb" || back[7] != "cccc" {
		t.Error(back, ok)
	}
	for _, bad := range []string{"x", "2:aaa", "0:aaaa", "a:bbbb", "2aaaa"} {
		if _, ok := seal.Parse(bad); ok {
			t.Errorf("%q is read", bad)
		}
	}
}

// TestPrintsAreText holds that no fingerprint can be read as anything but itself in a workbook.
func TestPrintsAreText(t *testing.T) {
	for i := range 200000 {
		if p := seal.OfNumber(float64(i)); len(p) != seal.Size || strings.ContainsAny(p, "_ :&<>") {
			t.Fatalf("a fingerprint is %q", p)
		}
	}
}

func TestExpression(t *testing.T) {
	name := func(sheet string, c seal.Cell) string {
		if sheet != "" || c.Row != 1 {
			return ""
		}
		return map[int]string{1: "a", 2: "b"}[c.Col]
	}
	for formula, want := range map[string]string{
		"=A1*2+B1": "a*2+b", "MAX(A1, B1)/3": "max(a, b)/3", "A1^2": "a^2", "-A1^2": "", "2^A1^B1": "", "A1^10%": "", "A1/10%": "a/0.1", "A1%": "",
		"A1*-B1": "a*-b", "(A1+B1)": "(a+b)", "SQRT($A$1)": "sqrt(a)",
		"A2": "", "C1": "", "Parts!A1": "", "SUM(A1:B1)": "", "IF(A1>0,1,2)": "", `A1&"x"`: "", "PI()*A1": "", "#REF!+A1": "", "rate*A1": "",
	} {
		got, ok := seal.Expression(formula, name)
		if ok != (want != "") || got != want {
			t.Errorf("%s is %q, want %q", formula, got, want)
		}
	}
}

func FuzzCanonical(f *testing.F) {
	for _, c := range rewritten {
		f.Add(c.written)
		f.Add(c.back)
	}
	f.Add(`'unclosed`)
	f.Add(`"unclosed`)
	f.Add("'a'!")
	f.Add("A:")
	f.Fuzz(func(t *testing.T, formula string) {
		a, ok := seal.Canonical("Own", formula, seal.Stay)
		b, ok2 := seal.Canonical("Own", " "+formula+" ", seal.Stay)
		if ok != ok2 || a != b {
			t.Errorf("%q: %q and %q", formula, a, b)
		}
		seal.Expression(formula, func(string, seal.Cell) string { return "x" })
		seal.Anchor(formula)
	})
}

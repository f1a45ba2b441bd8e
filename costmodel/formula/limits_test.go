package formula_test

import (
	"errors"
	"strings"
	"testing"

	"piececost/costmodel/formula"
)

// TestLimits: the last length and nesting that is accepted, the first that is refused.
func TestLimits(t *testing.T) {
	ones := func(n int) string { return strings.Repeat("1+", (n-1)/2) + "1" }
	nested := func(n int) string { return strings.Repeat("(", n) + "1" + strings.Repeat(")", n) }
	choices := func(n int) string { return strings.Repeat("1<2?", n) + "1" + strings.Repeat(":2", n) }
	deep := "more than 40 brackets or conditionals within each other; split it into quantities of their own"
	for _, c := range []struct {
		what, text, message string
		value               float64
	}{
		{"2,000 characters", ones(1999) + " ", "", 1000},
		{"2,001 characters", ones(2001), "1-2001: the expression has 2001 characters, more than 2000; split it into quantities of their own", 0},
		{"2,001 wide characters", strings.Repeat("ä", 2001),
			"1-2001: the expression has 2001 characters, more than 2000; split it into quantities of their own", 0},
		{"40 brackets", nested(40), "", 1},
		{"41 brackets", nested(41), "41-41: " + deep, 0},
		{"40 conditionals", choices(40), "", 1},
		{"41 conditionals", choices(41), "164-164: " + deep, 0},
		{"100 conditionals in a row", strings.Repeat("2<1?0:", 100) + "7", "", 7},
		{"20 arguments", "max(" + strings.Repeat("1,", 19) + "3)", "", 3},
		{"21 arguments", "max(" + strings.Repeat("1,", 20) + "3)", "1-3: write max(a, b, ...)", 0},
		{"20 arguments of min", "min(" + strings.Repeat("2,", 19) + "1)", "", 1},
		{"21 arguments of min", "min(" + strings.Repeat("2,", 20) + "1)", "1-3: write min(a, b, ...)", 0},
		{"a sixth power", `"2 m" ^ 6 / "1 m6"`, "", 64},
		{"a seventh power", `"2 m" ^ 7 / "1 m6" / "1 m"`, "1-9: the power 7 of length [m] can't be meant", 0},
		{"50 brackets beside each other", strings.Repeat("(1)+", 50) + "1", "", 51},
		{"1,998 signs", strings.Repeat("-", 1998) + "1", "", 1},
		{"brackets in a text", `"(((((((((((((((((((((((((((((((((((((((((((" * 2`,
			`1-45: the text "(((((((((((((((((((((((((((((((((((((((((((" is no quantity; only quantities such as "5 mm" may stand in quotation marks`, 0},
		{"brackets as texts", strings.Repeat(`"("+`, 41) + "1",
			`1-3: the text "(" is no quantity; only quantities such as "5 mm" may stand in quotation marks`, 0},
	} {
		v, err := exampleValue(t, c.text)
		if got := messageOf(err); got != c.message || v != c.value {
			t.Errorf("%s: %v %q; want %v %q", c.what, v, got, c.value, c.message)
		}
	}
}

func messageOf(err error) string {
	if err == nil {
		return ""
	}
	return pointed(err)
}

// TestMillions: no text, however large, may exhaust the stack of the parser.
func TestMillions(t *testing.T) {
	sys := testUnits(t)
	for _, piece := range []string{"(", ")", "-", "not ", "1+", "1<2?", ":", "[", "{", "a.", "2^", "max(", "sum(", "\"", "/*", "!", "f(f("} {
		for _, tail := range []string{"", "1"} {
			_, err := formula.Parse(strings.Repeat(piece, 1_000_000)+tail, sys)
			var fe *formula.Error
			if !errors.As(err, &fe) || !strings.Contains(fe.Msg, "more than 2000") {
				t.Errorf("a million %q: %.80v", piece, err)
			}
			longest := strings.Repeat(piece, 1999/len(piece)) + tail
			if _, err := formula.Parse(longest, sys); err != nil {
				pointsInto(t, longest, err)
			}
		}
	}
}

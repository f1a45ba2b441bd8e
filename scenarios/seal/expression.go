package seal

import (
	"strconv"
	"strings"
)

// A Name writes a cell as a name of the expression language, "" where it has none there.
type Name func(sheet string, named bool, c Cell) string

// functions are the spreadsheet functions that the expression language has too.
var functions = map[string]string{"MIN": "min", "MAX": "max", "ABS": "abs", "SQRT": "sqrt", "EXP": "exp", "LN": "ln"}

// Expression translates a formula of cells, numbers, + - * / ^, brackets, percent and the functions that the expression
// language has too; ok is false for anything else, and where the two would read signs and powers differently.
func Expression(formula string, name Name) (text string, ok bool) {
	ts := tokens(formula)
	if ambiguous(ts) {
		return "", false
	}
	var b strings.Builder
	for i := range ts {
		piece, ok := translated(ts, i, name)
		if !ok {
			return "", false
		}
		b.WriteString(piece)
	}
	return b.String(), true
}

// is tells whether the token at i is one of some operators.
func is(ts []token, i int, texts ...string) bool {
	if i < 0 || i >= len(ts) || ts[i].kind != operator {
		return false
	}
	for _, t := range texts {
		if ts[i].text == t {
			return true
		}
	}
	return false
}

// ambiguous finds a power beside a sign, a percent or another power: -A1^2 is a square in a spreadsheet.
func ambiguous(ts []token) bool {
	powers, others := 0, 0
	for i := range ts {
		switch {
		case is(ts, i, "^"):
			powers++
		case is(ts, i, "%"):
			others++
		case is(ts, i, "-", "+") && (i == 0 || is(ts, i-1, "+", "-", "*", "/", "^", "(", ",")):
			others++
		}
	}
	return powers > 1 || powers == 1 && others > 0
}

// translated writes one token.
func translated(ts []token, i int, name Name) (string, bool) {
	switch t := ts[i]; t.kind {
	case number:
		if !is(ts, i+1, "%") {
			return t.text, true
		}
		v, err := strconv.ParseFloat(t.text, 64)
		return strconv.FormatFloat(v/100, 'g', -1, 64), err == nil
	case reference:
		n := name(t.sheet, t.named, t.cell)
		return n, n != "" && !is(ts, i-1, ":") && !is(ts, i+1, ":")
	case word:
		f := functions[t.text]
		return f, f != "" && is(ts, i+1, "(")
	case operator:
		switch t.text {
		case "+", "-", "*", "/", "(", ")", "^":
			return t.text, true
		case ",":
			return ", ", true
		case "%":
			return "", i > 0 && ts[i-1].kind == number
		}
	}
	return "", false
}

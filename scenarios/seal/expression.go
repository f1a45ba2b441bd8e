package seal

import (
	"strconv"
	"strings"

	"piececost/scenarios/sheetformula"
)

// A Name writes a cell as a name of the expression language, "" where it has none there. sheet is "" for the formula's own.
type Name func(sheet string, c Cell) string

// functions are the spreadsheet functions that the expression language has too.
var functions = map[string]string{"MIN": "min", "MAX": "max", "ABS": "abs", "SQRT": "sqrt", "EXP": "exp", "LN": "ln"}

// Expression translates a formula of cells, numbers, + - * / ^, brackets, percent and the functions that the expression
// language has too; ok is false for anything else, and where the two would read signs and powers differently.
func Expression(formula string, name Name) (text string, ok bool) {
	ts := sheetformula.Lex(withoutSign(formula))
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
func is(ts []sheetformula.Token, i int, texts ...string) bool {
	if i < 0 || i >= len(ts) || ts[i].Kind != sheetformula.Operator {
		return false
	}
	for _, t := range texts {
		if ts[i].Text == t {
			return true
		}
	}
	return false
}

// signed tells whether an operator at a place is a sign: it stands first, or behind another operator, bracket or comma.
func signed(ts []sheetformula.Token, i int) bool {
	if !is(ts, i, "-", "+") {
		return false
	}
	if i == 0 {
		return true
	}
	switch ts[i-1].Kind {
	case sheetformula.Operator, sheetformula.Open, sheetformula.Function, sheetformula.Comma:
		return !is(ts, i-1, "%")
	}
	return false
}

// ambiguous finds a power beside a sign, a percent or another power: -A1^2 is a square in a spreadsheet.
func ambiguous(ts []sheetformula.Token) bool {
	powers, others := 0, 0
	for i := range ts {
		switch {
		case is(ts, i, "^"):
			powers++
		case is(ts, i, "%"), signed(ts, i):
			others++
		}
	}
	return powers > 1 || powers == 1 && others > 0
}

// translated writes one token.
func translated(ts []sheetformula.Token, i int, name Name) (string, bool) {
	switch t := &ts[i]; t.Kind {
	case sheetformula.Number:
		if !is(ts, i+1, "%") {
			return t.Text, true
		}
		v, err := strconv.ParseFloat(t.Text, 64)
		return strconv.FormatFloat(v/100, 'g', -1, 64), err == nil
	case sheetformula.Reference:
		if !t.Ref.Single() || t.Ref.Book != "" || t.Ref.Last != "" || is(ts, i-1, ":") || is(ts, i+1, ":") {
			return "", false
		}
		n := name(t.Ref.Sheet, Cell{t.Ref.Row1, t.Ref.Col1})
		return n, n != ""
	case sheetformula.Function:
		f := functions[t.Text]
		return f + "(", f != "" && t.Ref.Sheet == ""
	case sheetformula.Open:
		return "(", true
	case sheetformula.Closing:
		return ")", true
	case sheetformula.Comma:
		return ", ", t.Text == ","
	case sheetformula.Operator:
		if is(ts, i, "+", "-", "*", "/", "^") {
			return t.Text, true
		}
		return "", is(ts, i, "%") && i > 0 && ts[i-1].Kind == sheetformula.Number
	}
	return "", false
}

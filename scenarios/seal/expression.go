package seal

import "strings"

// A Name writes a cell as a name of the expression language, "" where it has none there.
type Name func(sheet string, named bool, c Cell) string

// functions are the spreadsheet functions that the expression language has too.
var functions = map[string]string{"MIN": "min", "MAX": "max", "ABS": "abs", "SQRT": "sqrt", "EXP": "exp", "LN": "ln"}

// Expression translates a formula of cells, numbers, + - * / ^, brackets, percent and the functions that the expression
// language has too; ok is false for anything else.
func Expression(formula string, name Name) (text string, ok bool) {
	var b strings.Builder
	ts := tokens(formula)
	for i, t := range ts {
		switch t.kind {
		case number:
			b.WriteString(t.text)
		case reference:
			colon := func(j int) bool { return j >= 0 && j < len(ts) && ts[j].kind == operator && ts[j].text == ":" }
			n := name(t.sheet, t.named, t.cell)
			if n == "" || colon(i-1) || colon(i+1) {
				return "", false
			}
			b.WriteString(n)
		case word:
			f := functions[t.text]
			if f == "" || i+1 >= len(ts) || ts[i+1].text != "(" {
				return "", false
			}
			b.WriteString(f)
		case operator:
			switch t.text {
			case "+", "-", "*", "/", "(", ")":
				b.WriteString(t.text)
			case "^":
				b.WriteString("^")
			case ",":
				b.WriteString(", ")
			case "%":
				b.WriteString("/100")
			default:
				return "", false
			}
		default:
			return "", false
		}
	}
	return b.String(), true
}

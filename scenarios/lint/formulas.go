package lint

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

const (
	longFormula = 300 // characters
	deepNesting = 7   // brackets inside brackets
	maxShown    = 60  // characters of a formula that are shown
)

// formulas finds what a single formula tells by itself: constants, volatile functions, length and depth.
func (c *checker) formulas() {
	c.formulaCells(func(sheet int, cell *cell) {
		f := cell.facts
		if n := len(f.constants); n > 0 {
			list := listed(f.constants)
			c.add("constant-in-formula", sheet, cell.Row, cell.Col, list, "%s inside the formula %s", counted(n, "the constant ", "the constants ")+list,
				shown(cell.Formula))
		}
		if n := len(f.volatile); n > 0 {
			list := listed(f.volatile)
			c.add("volatile-function", sheet, cell.Row, cell.Col, list, "%s in the formula %s", list, shown(cell.Formula))
		}
		if n := utf8.RuneCountInString(cell.Formula); n > longFormula {
			c.add("long-formula", sheet, cell.Row, cell.Col, "", "a formula of %d characters", n)
		}
		if f.depth > deepNesting {
			c.add("deep-nesting", sheet, cell.Row, cell.Col, "", "brackets %d deep in the formula %s", f.depth, shown(cell.Formula))
		}
	})
}

// shown is a formula for one line, cut where it is long.
func shown(formula string) string {
	text := []rune("=" + strings.Join(strings.Fields(formula), " "))
	if len(text) > maxShown {
		return string(text[:maxShown-3]) + "..."
	}
	return string(text)
}

// shownNumber is a number as a spreadsheet program shows it, with at most 15 figures.
func shownNumber(raw string) string {
	v, err := strconv.ParseFloat(raw, 64)
	if err != nil {
		return raw
	}
	return strconv.FormatFloat(v, 'g', 15, 64)
}

// listed joins words with commas and "and".
func listed(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

func counted(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

package seal

import (
	"strings"
)

// A tokenKind is what a piece of a formula is.
type tokenKind uint8

const (
	operator  tokenKind = iota // also brackets, commas, percent
	number                     // 1E-9
	text                       // "a", quotes included
	word                       // a function, a name, TRUE
	reference                  // a cell, A1, or a whole column or row in a range, A, 7
	broken                     // #REF! and other errors
)

// A token is a piece of a formula; Sheet is the sheet that a reference names, "" for its own.
type token struct {
	kind  tokenKind
	text  string
	sheet string
	named bool // the reference names its sheet
	cell  Cell // of a reference; Row or Col is 0 for a whole column or row
}

// tokens cuts a formula; what it can't read is an operator of one byte, which only makes formulas differ.
func tokens(formula string) []token { return cut(nil, formula) }

// cut appends the tokens of a formula.
func cut(out []token, formula string) []token {
	s := strings.TrimPrefix(strings.TrimSpace(formula), "=")
	for i := 0; i < len(s); {
		switch c := s[i]; {
		case c == ' ' || c == '\n' || c == '\r' || c == '\t':
			i++
		case c == '"':
			end := quoteEnd(s, i)
			out = append(out, token{kind: text, text: s[i:end]})
			i = end
		case c == '#':
			end := i + 1
			for end < len(s) && (isWord(s[end]) || s[end] == '/' || s[end] == '!' || s[end] == '?') {
				end++
			}
			out = append(out, token{kind: broken, text: s[i:end]})
			i = end
		case isDigit(c) || c == '.':
			end := numberEnd(s, i)
			out = append(out, token{kind: number, text: s[i:end]})
			i = end
		case c == '\'' || isWord(c) || c == '$':
			t, end := wordToken(s, i)
			out = append(out, t)
			i = end
		default:
			end := i + 1
			if end < len(s) && (c == '<' && (s[end] == '=' || s[end] == '>') || c == '>' && s[end] == '=') {
				end++
			}
			out = append(out, token{kind: operator, text: s[i:end]})
			i = end
		}
	}
	return wholeLines(out)
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func isLetter(c byte) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' }

func isWord(c byte) bool {
	return isLetter(c) || isDigit(c) || c == '_' || c == '.' || c == '\\' || c >= 0x80
}

// quoteEnd is the end of a text or sheet name in quotes; a doubled quote stands for one.
func quoteEnd(s string, i int) int {
	q := s[i]
	for i++; i < len(s); i++ {
		if s[i] != q {
			continue
		}
		if i+1 < len(s) && s[i+1] == q {
			i++
			continue
		}
		return i + 1
	}
	return len(s)
}

func numberEnd(s string, i int) int {
	for i < len(s) && (isDigit(s[i]) || s[i] == '.') {
		i++
	}
	if i < len(s) && (s[i] == 'E' || s[i] == 'e') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if j < len(s) && isDigit(s[j]) {
			for i = j; i < len(s) && isDigit(s[i]); i++ {
			}
		}
	}
	return i
}

// wordToken reads a function, a name, or a reference with or without its sheet.
func wordToken(s string, i int) (token, int) {
	sheet, named, at := sheetName(s, i)
	if !named {
		at = i
	}
	end := at
	for end < len(s) && (isWord(s[end]) || s[end] == '$') {
		end++
	}
	if end == at {
		if end < len(s) && s[end] == '#' { // Sheet!#REF!
			for end < len(s) && s[end] != '!' {
				end++
			}
			return token{kind: broken, text: "#REF!"}, min(end+1, len(s))
		}
		return token{kind: operator, text: s[i : i+1]}, i + 1
	}
	w := s[at:end]
	if call := end < len(s) && s[end] == '('; !call || named {
		if c, ok := parseCell(w); ok {
			return token{kind: reference, text: w, sheet: sheet, named: named, cell: c}, end
		}
	}
	return token{kind: word, text: strings.ToUpper(strings.TrimPrefix(w, "_xlfn.")), sheet: sheet, named: named}, end
}

// sheetName reads a sheet before "!"; end is behind it.
func sheetName(s string, i int) (name string, ok bool, end int) {
	if s[i] == '\'' {
		end = quoteEnd(s, i)
		if end < len(s) && s[end] == '!' {
			return strings.ReplaceAll(s[i+1:end-1], "''", "'"), true, end + 1
		}
		return "", false, i
	}
	for end = i; end < len(s) && isWord(s[end]); end++ {
	}
	if end > i && end < len(s) && s[end] == '!' {
		return s[i:end], true, end + 1
	}
	return "", false, i
}

// parseCell reads A1, $A$1, and, for ranges, A, $A, $7; ok is false for other words.
func parseCell(w string) (Cell, bool) {
	w = strings.ReplaceAll(w, "$", "")
	i := 0
	for i < len(w) && isLetter(w[i]) {
		i++
	}
	if i == 0 || i > 3 || i == len(w) {
		return Cell{}, false
	}
	var c Cell
	for _, l := range strings.ToUpper(w[:i]) {
		c.Col = c.Col*26 + int(l-'A') + 1
	}
	for _, d := range []byte(w[i:]) {
		if !isDigit(d) || c.Row > 1<<20 {
			return Cell{}, false
		}
		c.Row = c.Row*10 + int(d-'0')
	}
	return c, c.Row > 0 && c.Row <= 1<<20 && c.Col <= 1<<14
}

// wholeLines finds A:A and 1:1: words or numbers on both sides of a colon.
func wholeLines(ts []token) []token {
	for i := 1; i+1 < len(ts); i++ {
		if ts[i].kind != operator || ts[i].text != ":" {
			continue
		}
		a, z := &ts[i-1], &ts[i+1]
		for _, t := range []*token{a, z} {
			if t.kind == reference {
				continue
			}
			if c, ok := lineOf(t.text); ok {
				t.kind, t.cell = reference, c
			}
		}
		if a.kind == reference && z.kind == reference && !z.named {
			z.sheet, z.named = a.sheet, a.named
		}
	}
	return ts
}

// lineOf reads a whole column or row.
func lineOf(w string) (Cell, bool) {
	w = strings.ReplaceAll(w, "$", "")
	if c, ok := parseCell(w + "1"); ok && strings.IndexFunc(w, func(r rune) bool { return r >= '0' && r <= '9' }) < 0 {
		return Cell{Col: c.Col}, true
	}
	if c, ok := parseCell("A" + w); ok {
		return Cell{Row: c.Row}, true
	}
	return Cell{}, false
}

// Anchor returns the first cell that a formula names, with its sheet; ok is false where it names none.
func Anchor(formula string) (sheet string, c Cell, ok bool) {
	for _, t := range tokens(formula) {
		if t.kind == reference {
			return t.sheet, t.cell, true
		}
	}
	return "", Cell{}, false
}

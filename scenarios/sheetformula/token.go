package sheetformula

import "strings"

// A TokenKind is what a token of a formula is.
type TokenKind uint8

// The kinds of token.
const (
	Number     TokenKind = iota
	Text                 // "in quotes"
	ErrorValue           // #REF!
	Reference            // a cell or range
	Name                 // a defined name, TRUE
	Table                // Table1[Column]
	Function             // SUM( , with its bracket
	Open                 // a bracket of its own
	Closing
	Comma    // of arguments, also the separators in {1,2;3,4}
	Operator // + - * / ^ & % = <> < > <= >= : @ and braces
)

// A Token is a piece of a formula. Text is the number as written, the name, the function in capitals or the operator.
type Token struct {
	Kind TokenKind
	Text string
	Ref  Ref
}

// lexer cuts a formula, as it stands in a file (English names, commas, A1 references), into tokens. Anything is cut
// into something: what no spreadsheet program writes becomes names and operators, never an error.
type lexer struct {
	s string
	i int
}

// Lex cuts a formula without its leading =.
func Lex(formula string) []Token { return Append(nil, formula) }

// Append appends the tokens of a formula to a slice, which may be used again.
func Append(out []Token, formula string) []Token {
	r := Reader{lexer{s: formula}}
	for t, ok := r.Next(); ok; t, ok = r.Next() {
		out = append(out, t)
	}
	return out
}

// A Reader cuts one token after the other, for who may stop early: a formula may have millions.
type Reader struct{ l lexer }

// NewReader reads a formula without its leading =.
func NewReader(formula string) *Reader { return &Reader{lexer{s: formula}} }

// Next returns the next token; ok is false at the end.
func (r *Reader) Next() (t Token, ok bool) {
	l := &r.l
	for l.i < len(l.s) && isBlank(l.s[l.i]) {
		l.i++
	}
	if l.i >= len(l.s) {
		return Token{}, false
	}
	return l.next(), true
}

func (l *lexer) next() Token {
	c := l.s[l.i]
	switch {
	case c == '"':
		return Token{Kind: Text, Text: l.quoted(c)}
	case c == '\'':
		return l.quotedSheet()
	case c == '[':
		return l.bracketed()
	case c == '#':
		return l.errorValue()
	case isWord(c):
		return l.word()
	}
	return l.sign(c)
}

func (l *lexer) sign(c byte) Token {
	from := l.i
	l.i++
	switch c {
	case '(':
		return Token{Kind: Open}
	case ')':
		return Token{Kind: Closing}
	case ',', ';':
		return Token{Kind: Comma, Text: string(c)}
	case '<', '>':
		if l.i < len(l.s) && (l.s[l.i] == '=' || l.s[l.i] == '>') {
			l.i++
		}
	}
	return Token{Kind: Operator, Text: l.s[from:l.i]}
}

// quoted reads up to the closing quote, a doubled one stands for itself; what is not closed goes to the end.
func (l *lexer) quoted(quote byte) string {
	from := l.i
	for l.i++; l.i < len(l.s); l.i++ {
		if l.s[l.i] != quote {
			continue
		}
		if l.i++; l.i >= len(l.s) || l.s[l.i] != quote {
			break
		}
	}
	return l.s[from:min(l.i, len(l.s))]
}

// quotedSheet reads 'My sheet'!A1, '[1]My sheet'!A1 and '[1]Jan:Dec'!A1.
func (l *lexer) quotedSheet() Token {
	raw := l.quoted('\'')
	inside := strings.ReplaceAll(strings.Trim(raw, "'"), "''", "'")
	if !l.take('!') {
		return Token{Kind: Name, Text: raw}
	}
	book := ""
	if at := strings.IndexByte(inside, '['); at >= 0 {
		if end := strings.IndexByte(inside, ']'); end > at {
			book, inside = inside[at+1:end], inside[end+1:]
		}
	}
	first, last, _ := strings.Cut(inside, ":")
	return l.target(Ref{Book: ownBook(book), Sheet: first, Last: last})
}

// bracketed reads [1]Sheet!A1, [1]!Name, or a reference into the table the cell stands in.
func (l *lexer) bracketed() Token {
	inside := l.brackets()
	if strings.ContainsAny(inside, "[]#@") {
		return Token{Kind: Table}
	}
	at := l.i
	for at < len(l.s) && (isWord(l.s[at]) || l.s[at] == ':') {
		at++
	}
	if at >= len(l.s) || l.s[at] != '!' {
		return Token{Kind: Table}
	}
	first, last, _ := strings.Cut(l.s[l.i:at], ":")
	l.i = at + 1
	return l.target(Ref{Book: ownBook(inside), Sheet: first, Last: last})
}

// ownBook makes [0], which means the workbook itself, no book.
func ownBook(book string) string {
	if book == "0" {
		return ""
	}
	return book
}

// brackets reads a balanced [...] and returns what is inside; ' escapes a bracket in the name of a column.
func (l *lexer) brackets() string {
	from, depth := l.i, 0
	for ; l.i < len(l.s); l.i++ {
		switch l.s[l.i] {
		case '\'':
			l.i++
		case '[':
			depth++
		case ']':
			depth--
		}
		if depth == 0 {
			l.i++
			return l.s[from+1 : l.i-1]
		}
	}
	l.i = len(l.s)
	return l.s[from+1:]
}

var errorValues = []string{"#REF!", "#DIV/0!", "#VALUE!", "#NAME?", "#N/A", "#NUM!", "#NULL!", "#GETTING_DATA", "#SPILL!", "#CALC!", "#FIELD!", "#BLOCKED!"}

func (l *lexer) errorValue() Token {
	for _, e := range errorValues {
		if len(l.s)-l.i >= len(e) && strings.EqualFold(l.s[l.i:l.i+len(e)], e) {
			l.i += len(e)
			return Token{Kind: ErrorValue, Text: e}
		}
	}
	return l.sign('#')
}

func (l *lexer) take(c byte) bool {
	if l.i < len(l.s) && l.s[l.i] == c {
		l.i++
		return true
	}
	return false
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func isLetter(c byte) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' }

func isWord(c byte) bool {
	return isLetter(c) || isDigit(c) || c == '_' || c == '.' || c == '$' || c == '\\' || c == '?' || c >= 0x80
}

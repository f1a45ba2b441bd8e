package sheetformula

import "strings"

// word reads what begins with a letter, a figure or a dollar: a reference, a number, a function, a sheet's name before
// its exclamation mark, a table or a defined name.
func (l *lexer) word() Token {
	if a, fixed, end, ok := rangeAt(l.s, l.i); ok {
		l.i = end
		return Token{Kind: Reference, Ref: Ref{Area: a, Fixed: fixed}}
	}
	if end := numberEnd(l.s, l.i); end > l.i {
		from := l.i
		l.i = end
		return Token{Kind: Number, Text: l.s[from:end]}
	}
	from := l.i
	l.i = wordEnd(l.s, l.i)
	word := l.s[from:l.i]
	switch {
	case l.take('('):
		return Token{Kind: Function, Text: functionName(word)}
	case l.take('!'):
		return l.target(Ref{Sheet: word})
	case l.i < len(l.s) && l.s[l.i] == '[':
		l.brackets()
		return Token{Kind: Table, Text: word}
	case l.i < len(l.s) && l.s[l.i] == ':':
		if end := wordEnd(l.s, l.i+1); end > l.i+1 && end < len(l.s) && l.s[end] == '!' {
			last := l.s[l.i+1 : end]
			l.i = end + 1
			return l.target(Ref{Sheet: word, Last: last})
		}
	}
	return Token{Kind: Name, Text: word}
}

func wordEnd(s string, i int) int {
	for i < len(s) && isWord(s[i]) {
		i++
	}
	return i
}

// functionName drops the marks of newer functions and of worksheet-only ones.
func functionName(word string) string {
	word = strings.ToUpper(word)
	word = strings.TrimPrefix(word, "_XLFN.")
	return strings.TrimPrefix(word, "_XLWS.")
}

// target reads what stands behind a sheet's exclamation mark.
func (l *lexer) target(r Ref) Token {
	if a, fixed, end, ok := rangeAt(l.s, l.i); ok {
		l.i = end
		r.Area, r.Fixed = a, fixed
		return Token{Kind: Reference, Ref: r}
	}
	if l.i < len(l.s) && l.s[l.i] == '#' {
		return l.errorValue()
	}
	from := l.i
	l.i = wordEnd(l.s, l.i)
	word := l.s[from:l.i]
	if l.take('(') {
		return Token{Kind: Function, Text: functionName(word), Ref: r}
	}
	return Token{Kind: Name, Text: word, Ref: r}
}

// numberEnd is the end of a number without sign, 1.5E-3; i itself where there is none.
func numberEnd(s string, i int) int {
	end := i
	for end < len(s) && isDigit(s[end]) {
		end++
	}
	figures := end - i
	if end < len(s) && s[end] == '.' {
		from := end + 1
		for end = from; end < len(s) && isDigit(s[end]); end++ {
		}
		figures += end - from
	}
	if figures == 0 {
		return i
	}
	if e := exponentEnd(s, end); e > end {
		end = e
	}
	if end < len(s) && (isWord(s[end]) || s[end] == '!') {
		return i // a name such as 3M, or a sheet 2025
	}
	return end
}

func exponentEnd(s string, i int) int {
	if i >= len(s) || s[i]|0x20 != 'e' {
		return i
	}
	end := i + 1
	if end < len(s) && (s[end] == '+' || s[end] == '-') {
		end++
	}
	from := end
	for end < len(s) && isDigit(s[end]) {
		end++
	}
	if end == from {
		return i
	}
	return end
}

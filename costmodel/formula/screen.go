package formula

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser/lexer"
)

// Limits on an expression, checked before parsing: the parser recurses.
const (
	maxLength  = 2000 // characters
	maxNesting = 40   // brackets and conditionals open at once
)

// plainNumber is how a number may be written; the parser also knows 0x1F and 1_000, which a spreadsheet does not.
var plainNumber = regexp.MustCompile(`^([0-9]+(\.[0-9]+)?|\.[0-9]+)([eE][+-]?[0-9]+)?$`)

// screen refuses, before the parser sees the text, what it would accept but this language does not: too long or too deep
// texts, foreign operators, and chains that read otherwise in a spreadsheet. The parser's tree shows none of the last.
func screen(text string) *Error {
	runes := []rune(text)
	if len(runes) > maxLength {
		return fail(0, len(runes), fmt.Sprintf("the expression has %d characters, more than %d", len(runes), maxLength),
			"split it into quantities of their own")
	}
	if e := screenCharacters(runes); e != nil {
		return e
	}
	tokens, err := lexer.Lex(file.NewSource(text))
	if err != nil {
		return fromParser(err, text)
	}
	if e := screenTokens(tokens); e != nil {
		return e
	}
	return screenChains(tokens)
}

// screenCharacters refuses single characters. In a text literal only those that are nowhere right: the rest is for the
// reader of quantities to judge ("5 m²").
func screenCharacters(runes []rune) *Error {
	var quote rune
	for i, r := range runes {
		switch r {
		case '“', '”', '„', '‘', '’':
			return fail(i, i+1, "a curly quotation mark", `write the straight one, "5 mm"`)
		case '`', '\\':
			return fail(i, i+1, fmt.Sprintf("%q is not part of the language", r), "")
		case '"', '\'':
			quote = quoteAfter(quote, r)
		}
		if quote == 0 {
			if e := screenOutside(runes, i); e != nil {
				return e
			}
		}
	}
	return nil
}

// quoteAfter returns the mark that closes the text literal under way after another mark was met, 0 where none is open.
func quoteAfter(open, met rune) rune {
	switch open {
	case 0:
		return met
	case met:
		return 0
	}
	return open
}

// screenOutside refuses a character that stands in no text literal. The parser would drop what it takes for a comment.
func screenOutside(runes []rune, i int) *Error {
	switch r := runes[i]; r {
	case '/':
		if i+1 < len(runes) && (runes[i+1] == '/' || runes[i+1] == '*') {
			return fail(i, i+2, "a comment is not part of the language", "keep remarks in a column Note")
		}
	case '×', '·':
		return fail(i, i+1, fmt.Sprintf("%q is no operator here", r), "write *")
	case '−', '–':
		return fail(i, i+1, "a dash that is not the minus sign", "write -")
	case '²', '³':
		return fail(i, i+1, "a raised figure", "write ^2 or ^3")
	case '#', '@', '$', ';':
		return fail(i, i+1, fmt.Sprintf("%q is not part of the language", r), "")
	}
	return nil
}

// refused holds the parser's tokens that are not part of the language, with what to do instead.
var refused = map[string]string{
	"|": "write a function call, max(a, b)", "%": `write a share as "5 %" or 0.05`, "**": "write ^",
	"??": "write a conditional, a > 0 ? b : c", "?.": "write a plain dot", "..": "", "::": "", ";": "",
	"[": "write names with a dot, material.density", "{": "", "]": "", "}": "",
	"let": "make it a quantity of its own", "in": "", "matches": "", "contains": "", "startsWith": "", "endsWith": "",
	"=": "write == to compare", "nil": "leave the cell empty instead", "true": "write a comparison", "false": "write a comparison",
	"if": "write condition ? a : b", "else": "write condition ? a : b",
}

func screenTokens(tokens []lexer.Token) *Error {
	depth := 0
	for i, t := range tokens {
		if help, bad := refused[t.Value]; bad && t.Kind != lexer.String && !(i > 0 && tokens[i-1].Value == ".") {
			return fail(t.From, t.To, fmt.Sprintf("%q is not part of the language", t.Value), help)
		}
		if e := screenNumber(tokens, i); e != nil {
			return e
		}
		if e := screenPair(tokens, i); e != nil {
			return e
		}
		switch {
		case t.Kind == lexer.String:
		case t.Kind == lexer.Bytes:
			return fail(t.From, t.To, "such a text is not part of the language", "")
		case t.Value == "(" || t.Value == "?":
			if depth++; depth > maxNesting {
				return fail(t.From, t.To, fmt.Sprintf("more than %d brackets or conditionals within each other", maxNesting),
					"split it into quantities of their own")
			}
		case t.Value == ")" || t.Value == ":":
			depth--
		}
	}
	return nil
}

// screenNumber refuses numbers written otherwise than in a spreadsheet, too large ones, and a unit behind a number.
func screenNumber(tokens []lexer.Token, i int) *Error {
	t := tokens[i]
	if t.Kind != lexer.Number {
		return nil
	}
	if !plainNumber.MatchString(t.Value) {
		return fail(t.From, t.To, fmt.Sprintf("the number %s", t.Value), "write it with digits, a point and at most an exponent, 1200 or 1.2e3")
	}
	_, err := strconv.ParseFloat(t.Value, 64)
	if err == nil && !strings.ContainsAny(t.Value, ".eE") {
		_, err = strconv.ParseInt(t.Value, 10, 64)
	}
	if err != nil {
		return fail(t.From, t.To, fmt.Sprintf("the number %s is too large", t.Value), "write a long number with an exponent, 1e20")
	}
	if next := tokens[i+1]; next.Kind == lexer.Identifier {
		return fail(t.From, next.To, "an operator is missing", fmt.Sprintf(`write %s * %s, or a quantity in quotation marks, "5 mm"`, t.Value, next.Value))
	}
	return nil
}

// screenPair refuses two tokens in a row that the parser takes but a spreadsheet reads otherwise or not at all.
func screenPair(tokens []lexer.Token, i int) *Error {
	if i == 0 || tokens[i].Kind == lexer.String || tokens[i-1].Kind == lexer.String {
		return nil
	}
	from, to := tokens[i-1].From, tokens[i].To
	switch tokens[i-1].Value + tokens[i].Value {
	case "?:":
		return fail(from, to, `"?:" is not part of the language`, "write condition ? value : other value")
	case ",)":
		return fail(from, to, "an argument is missing before the bracket", "")
	case "<>":
		return fail(from, to, `"<>" is not part of the language`, "write !=")
	}
	return nil
}

// screenChains finds -a^b, a^b^c and a<b<c. It walks the tokens with one memory a bracket level: whether a power or
// a comparison is under way.
func screenChains(tokens []lexer.Token) *Error {
	type level struct{ power, compared, negated bool }
	stack := []level{{}}
	operandBefore := false
	for i, t := range tokens {
		top := &stack[len(stack)-1]
		operator := t.Kind == lexer.Operator && !(i > 0 && tokens[i-1].Value == ".") // in a name, part.in, even a word is none
		switch {
		case t.Kind == lexer.Bracket && t.Value == "(":
			stack = append(stack, level{})
			operandBefore = false
		case t.Kind == lexer.Bracket:
			if len(stack) > 1 {
				stack = stack[:len(stack)-1]
			}
			operandBefore = true
		case operator && t.Value == ".":
		case operator && (t.Value == "-" || t.Value == "+") && !operandBefore:
			top.negated = true
		case operator && t.Value == "^":
			if top.power {
				return fail(t.From, t.To, "a^b^c is (a^b)^c in a spreadsheet and a^(b^c) elsewhere", "write the brackets")
			}
			if top.negated {
				return fail(t.From, t.To, "-a^b is (-a)^b in a spreadsheet and -(a^b) elsewhere", "write the brackets")
			}
			top.power, operandBefore = true, false
		case operator && isComparison(t.Value):
			if top.compared {
				return fail(t.From, t.To, "two comparisons in a row", "join them: a < b and b < c")
			}
			*top, operandBefore = level{compared: true}, false
		case operator && strings.Contains("* / + -", t.Value):
			top.power, top.negated, operandBefore = false, false, false
		case operator:
			*top, operandBefore = level{}, false
		default:
			operandBefore = true
		}
	}
	return nil
}

func isComparison(text string) bool {
	switch text {
	case "<", "<=", ">", ">=", "==", "!=":
		return true
	}
	return false
}

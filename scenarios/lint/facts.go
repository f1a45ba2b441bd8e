package lint

import (
	"slices"
	"strconv"
	"strings"

	"piececost/scenarios/sheetformula"
)

// facts are what the checks ask about a formula.
type facts struct {
	form      string   // as seen from its cell: equal for formulas that are copies of each other
	constants []string // numbers that stand for something, as written, each once
	volatile  []string // functions that compute anew at each change, each once
	depth     int      // brackets inside brackets
	broken    bool     // it holds #REF!
	blind     bool     // what it reads can't be told: OFFSET, INDIRECT, A1:INDEX(...)
	absent    bool     // it calls NA(), so #N/A is meant
	reads     []sheetformula.Ref
	operands  []sheetformula.Ref // cells next to + - * / ^
	sums      []sheetformula.Ref // what SUM and its like read
	names     []sheetformula.Token
	tables    []string
}

// A frame is an open bracket: what numbers inside it mean.
type frame struct {
	function string
	arg      int
	exponent bool // behind ^
	position bool // inside a position argument, through brackets and choosing functions
	inherits bool // a plain bracket or a choosing function
}

// scan walks the tokens of a formula once.
type scan struct {
	tokens   []sheetformula.Token
	row, col int
	facts    *facts
	stack    []frame
	braces   int // open in {1,2,3}, whose commas part no arguments
	form     strings.Builder
}

const (
	maxNamed   = 8    // constants or functions that are named in one finding
	maxFormula = 8192 // characters that spreadsheet programs take; longer ones are not read
)

// factsOf reads a formula that stands in a cell.
func factsOf(formula string, row, col int) *facts {
	if len(formula) > 4*maxFormula {
		return &facts{form: formula, blind: true}
	}
	s := scan{tokens: sheetformula.Lex(formula), row: row, col: col, facts: &facts{}}
	for i := range s.tokens {
		s.token(i)
	}
	s.facts.form = s.form.String()
	return s.facts
}

func (s *scan) token(i int) {
	t := &s.tokens[i]
	switch t.Kind {
	case sheetformula.Number:
		s.number(i)
		s.form.WriteString(t.Text)
	case sheetformula.Reference:
		s.reference(i)
		t.Ref.Relative(&s.form, s.row, s.col)
	case sheetformula.Function, sheetformula.Open:
		s.push(i)
		s.form.WriteString(t.Text + "(")
	case sheetformula.Closing:
		if n := len(s.stack); n > 0 {
			s.stack = s.stack[:n-1]
		}
		s.form.WriteByte(')')
	case sheetformula.Comma:
		if n := len(s.stack); n > 0 && s.braces == 0 {
			s.stack[n-1].arg++
		}
		s.form.WriteString(t.Text)
	case sheetformula.Name:
		s.name(t)
		s.form.WriteString(strings.ToLower(t.Ref.Sheet + "!" + t.Text))
	case sheetformula.Table:
		s.facts.tables = append(s.facts.tables, strings.ToLower(t.Text))
		s.facts.blind = s.facts.blind || t.Text == ""
		s.form.WriteString(strings.ToLower(t.Text) + "[]")
	case sheetformula.ErrorValue:
		s.facts.broken = s.facts.broken || t.Text == "#REF!"
		s.form.WriteString(t.Text)
	case sheetformula.Operator:
		s.operator(t.Text)
		s.form.WriteString(t.Text)
	default:
		s.form.WriteString(t.Text)
	}
}

func (s *scan) operator(sign string) {
	switch sign {
	case ":":
		s.facts.blind = true
	case "{":
		s.braces++
	case "}":
		s.braces--
	}
}

// name keeps a defined name; TRUE and FALSE are none.
func (s *scan) name(t *sheetformula.Token) {
	if strings.EqualFold(t.Text, "TRUE") || strings.EqualFold(t.Text, "FALSE") {
		return
	}
	if t.Ref.Book != "" {
		s.facts.reads = append(s.facts.reads, t.Ref)
		return
	}
	s.facts.names = append(s.facts.names, *t)
}

// push opens a bracket.
func (s *scan) push(i int) {
	t := &s.tokens[i]
	f := frame{function: t.Text, exponent: s.behindPower(i) || s.top().exponent}
	f.inherits = t.Kind == sheetformula.Open || choosing[t.Text]
	f.position = s.position()
	s.stack = append(s.stack, f)
	s.facts.depth = max(s.facts.depth, len(s.stack))
	switch {
	case t.Kind == sheetformula.Open:
	case volatileFunctions[t.Text]:
		s.facts.volatile = appendNew(s.facts.volatile, t.Text)
		s.facts.blind = s.facts.blind || t.Text == "OFFSET" || t.Text == "INDIRECT"
	case t.Text == "NA":
		s.facts.absent = true
	}
	if t.Ref.Book != "" {
		s.facts.reads = append(s.facts.reads, t.Ref)
	}
}

func (s *scan) top() frame {
	if n := len(s.stack); n > 0 {
		return s.stack[n-1]
	}
	return frame{}
}

// position tells whether what stands here is a position: an argument that says which, not how much.
func (s *scan) position() bool {
	f := s.top()
	if slices.Contains(positions[f.function], f.arg) {
		return true
	}
	condition := f.function == "IF" && f.arg == 0
	return f.inherits && f.position && !condition
}

func (s *scan) behindPower(i int) bool {
	for i--; i >= 0 && s.is(i, "+-"); i-- {
	}
	return s.is(i, "^")
}

// is tells whether a token is one of some operators of one character.
func (s *scan) is(i int, operators string) bool {
	return i >= 0 && i < len(s.tokens) && s.tokens[i].Kind == sheetformula.Operator && len(s.tokens[i].Text) == 1 &&
		strings.Contains(operators, s.tokens[i].Text)
}

// number keeps a number that stands for something.
func (s *scan) number(i int) {
	written := s.tokens[i].Text
	value, err := strconv.ParseFloat(written, 64)
	if err != nil {
		return
	}
	if s.is(i+1, "%") {
		written, value = written+"%", value/100
	}
	if !plainNumbers[value] && !s.position() && !s.top().exponent && !s.behindPower(i) {
		s.facts.constants = appendNew(s.facts.constants, written)
	}
}

// reference keeps what a formula reads, and how.
func (s *scan) reference(i int) {
	r := s.tokens[i].Ref
	s.facts.reads = append(s.facts.reads, r)
	if r.Single() && (s.is(i-1, "+-*/^") || s.is(i+1, "+-*/^")) {
		s.facts.operands = append(s.facts.operands, r)
	}
	if summing[s.top().function] {
		s.facts.sums = append(s.facts.sums, r)
	}
}

func appendNew(list []string, text string) []string {
	if len(list) == maxNamed || slices.Contains(list, text) {
		return list
	}
	return append(list, text)
}

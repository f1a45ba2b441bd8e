package reading

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/sheetformula"
)

// arithmetic computes a native formula of numbers, cells, + - * / ^ % and brackets, with the precedence of spreadsheet
// programs (a sign binds tighter than ^). Anything else is an error: a formula is computed with certainty or not at all.
func (b *Book) arithmetic(sheet, formula string) (float64, error) {
	return b.evaluate(sheet, formula, map[string]bool{})
}

const maxDepth = 60 // cells behind cells, or brackets in brackets

func (b *Book) evaluate(sheet, formula string, open map[string]bool) (float64, error) {
	p := &cellParser{book: b, sheet: sheet, tokens: sheetformula.NewReader(strings.TrimPrefix(formula, "=")), open: open}
	p.step()
	v, err := p.sum(0)
	if err == nil && p.more {
		err = errNotPlain
	}
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		err = errors.New("its arithmetic gives no number")
	}
	return v, err
}

var errTooFar = errors.New("leads through too many cells")

var errNotPlain = errors.New("is more than plain arithmetic over cells")

type cellParser struct {
	book  *Book
	sheet string
	open  map[string]bool // cells whose formula is being computed

	tokens *sheetformula.Reader
	next   sheetformula.Token
	more   bool // next is a token
}

func (p *cellParser) step() { p.next, p.more = p.tokens.Next() }

// take reads one of some operators, 0 where none of them is next.
func (p *cellParser) take(signs string) byte {
	if !p.more || p.next.Kind != sheetformula.Operator || len(p.next.Text) != 1 || !strings.Contains(signs, p.next.Text) {
		return 0
	}
	c := p.next.Text[0]
	p.step()
	return c
}

func (p *cellParser) sum(depth int) (float64, error) {
	v, err := p.product(depth)
	for err == nil {
		sign := p.take("+-")
		if sign == 0 {
			return v, nil
		}
		var w float64
		w, err = p.product(depth)
		if sign == '-' {
			w = -w
		}
		v += w
	}
	return 0, err
}

func (p *cellParser) product(depth int) (float64, error) {
	v, err := p.power(depth)
	for err == nil {
		sign := p.take("*/")
		if sign == 0 {
			return v, nil
		}
		var w float64
		w, err = p.power(depth)
		if sign == '/' {
			v /= w
		} else {
			v *= w
		}
	}
	return 0, err
}

func (p *cellParser) power(depth int) (float64, error) {
	v, err := p.signed(depth)
	for err == nil && p.take("^") != 0 {
		var w float64
		w, err = p.signed(depth)
		v = math.Pow(v, w)
	}
	return v, err
}

func (p *cellParser) signed(depth int) (float64, error) {
	sign := 1.0
	for n := 0; ; n++ {
		c := p.take("+-")
		if c == 0 {
			break
		}
		if c == '-' {
			sign = -sign
		}
	}
	v, err := p.operand(depth)
	for err == nil && p.take("%") != 0 {
		v /= 100
	}
	return sign * v, err
}

func (p *cellParser) operand(depth int) (float64, error) {
	if depth > maxDepth || !p.more {
		return 0, errNotPlain
	}
	t := p.next
	p.step()
	switch t.Kind {
	case sheetformula.Open:
		v, err := p.sum(depth + 1)
		if err != nil {
			return 0, err
		}
		if !p.more || p.next.Kind != sheetformula.Closing {
			return 0, errNotPlain
		}
		p.step()
		return v, nil
	case sheetformula.Number:
		return strconv.ParseFloat(t.Text, 64)
	case sheetformula.Reference:
		if !t.Ref.Single() || t.Ref.Book != "" || t.Ref.Last != "" {
			return 0, errNotPlain
		}
		sheet := p.sheet
		if t.Ref.Sheet != "" {
			sheet = t.Ref.Sheet
		}
		return p.cell(sheet, table.ColumnName(t.Ref.Col1)+strconv.Itoa(t.Ref.Row1))
	}
	return 0, errNotPlain
}

// cell reads a cell a formula names; an empty one counts 0, as in spreadsheet programs.
func (p *cellParser) cell(sheet, name string) (float64, error) {
	key := strings.ToLower(sheet) + "!" + name
	if p.open[key] {
		return 0, fmt.Errorf("runs in a circle through %s!%s", sheet, name)
	}
	if len(p.open) > maxDepth {
		return 0, errTooFar
	}
	s := p.book.Pack.Sheet(sheet)
	if s == nil {
		return 0, fmt.Errorf("names a sheet %q that is not there", sheet)
	}
	g, err := p.book.Grid(s)
	if err != nil {
		return 0, err
	}
	col, row, err := excelize.CellNameToCoordinates(name)
	if err != nil {
		return 0, errNotPlain
	}
	c := g.at(row, col)
	if c == nil {
		return 0, nil
	}
	if isComputed(c) && !c.HasValue {
		if known, ok := p.book.computed[key]; ok {
			return known.value, known.err
		}
		p.open[key] = true
		v, err := p.book.evaluate(s.Name, c.Formula, p.open)
		delete(p.open, key)
		if !errors.Is(err, errTooFar) { // how far is too far depends on where one starts
			p.book.computed[key] = result{v, err}
		}
		return v, err
	}
	switch v := p.book.Stored(c); v.Kind {
	case table.Number:
		return v.Number, nil
	case table.Empty:
		return 0, nil
	}
	return 0, fmt.Errorf("uses %s!%s, which holds no number", sheet, name)
}

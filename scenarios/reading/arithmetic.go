package reading

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
)

// arithmetic computes a native formula of numbers, cells, + - * / ^ % and brackets, with the precedence of spreadsheet
// programs (a sign binds tighter than ^). Anything else is an error: a formula is computed with certainty or not at all.
func (b *Book) arithmetic(sheet, formula string) (float64, error) {
	return b.evaluate(sheet, formula, map[string]bool{})
}

// result is what a cell without stored value came to; remembered, since a chain of cells would be computed over and over.
type result struct {
	value float64
	err   error
}

const maxDepth = 60 // cells behind cells, or brackets in brackets

func (b *Book) evaluate(sheet, formula string, open map[string]bool) (float64, error) {
	p := &cellParser{book: b, sheet: sheet, rest: strings.TrimPrefix(formula, "="), open: open}
	v, err := p.sum(0)
	if err == nil && strings.TrimSpace(p.rest) != "" {
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
	rest  string
	open  map[string]bool // cells whose formula is being computed
}

func (p *cellParser) take(signs string) byte {
	p.rest = strings.TrimLeft(p.rest, " \n\t")
	if p.rest == "" || !strings.ContainsRune(signs, rune(p.rest[0])) {
		return 0
	}
	c := p.rest[0]
	p.rest = p.rest[1:]
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

var (
	numberPart = regexp.MustCompile(`^([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?`)
	cellPart   = regexp.MustCompile(`^(?:('(?:[^']|'')+'|[\pL_][\pL\pN_.]*)!)?\$?([A-Za-z]{1,3})\$?([0-9]{1,7})`)
)

func (p *cellParser) operand(depth int) (float64, error) {
	if depth > maxDepth {
		return 0, errNotPlain
	}
	if p.take("(") != 0 {
		v, err := p.sum(depth + 1)
		if err == nil && p.take(")") == 0 {
			err = errNotPlain
		}
		return v, err
	}
	p.rest = strings.TrimLeft(p.rest, " \n\t")
	if m := numberPart.FindString(p.rest); m != "" {
		p.rest = p.rest[len(m):]
		return strconv.ParseFloat(m, 64)
	}
	if m := cellPart.FindStringSubmatch(p.rest); m != nil {
		rest := p.rest[len(m[0]):]
		if rest != "" && (rest[0] == '(' || rest[0] == ':' || rest[0] == '_') {
			return 0, errNotPlain
		}
		p.rest = rest
		sheet := p.sheet
		if m[1] != "" {
			sheet = strings.ReplaceAll(strings.Trim(m[1], "'"), "''", "'")
		}
		return p.cell(sheet, strings.ToUpper(m[2])+m[3])
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
	case costmodel.Number:
		return v.Number, nil
	case costmodel.Empty:
		return 0, nil
	}
	return 0, fmt.Errorf("uses %s!%s, which holds no number", sheet, name)
}

package units

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Parse reads a unit: symbols joined by * or a blank, one level of / and brackets, whole powers ("kg/m3", "m^2",
// "EUR/(kg*h)", "%/yr", "1/yr"). An empty text is a plain number. "a/b*c" is refused, because half of the readers take
// it for a/(b*c).
func (s *System) Parse(text string) (Unit, error) {
	if u, ok := s.known.Load(text); ok {
		return u.(Unit), nil
	}
	u, err := s.parse(text)
	if err == nil {
		s.known.Store(text, u)
	}
	return u, err
}

func (s *System) parse(text string) (Unit, error) {
	p := unitParser{sys: s, rest: normalise(text)}
	if p.rest == "" {
		return One, nil
	}
	if len(p.rest) > 100 {
		return Unit{}, fmt.Errorf("a unit of %d characters can't be read", len(p.rest))
	}
	u, err := p.quotient(0)
	if err == nil && p.rest != "" {
		err = fmt.Errorf("unit %q: %q can't be read", text, p.rest)
	}
	if err != nil {
		return Unit{}, err
	}
	u.Text = strings.TrimSpace(text)
	return u, nil
}

var exponents = strings.NewReplacer("¹", "1", "²", "2", "³", "3", "⁻", "-", "·", "*", "×", "*", "₂", "2", "℃", "°C", "℉", "°F")

// normalise writes raised figures and product signs plainly, and any white space (a line break in a heading) as a blank.
func normalise(text string) string { return strings.Join(strings.Fields(exponents.Replace(text)), " ") }

type unitParser struct {
	sys  *System
	rest string
}

// quotient reads product { "/" product }; after a slash no further product sign may follow outside brackets.
func (p *unitParser) quotient(depth int) (Unit, error) {
	if depth > 4 {
		return Unit{}, fmt.Errorf("too many brackets in a unit")
	}
	u, _, err := p.product(depth)
	for err == nil && p.take('/') {
		var v Unit
		var factors int
		if v, factors, err = p.product(depth); err == nil && factors > 1 {
			err = fmt.Errorf("a unit like a/b*c can be read in two ways; write a/(b*c) or a*c/b")
		}
		if err == nil {
			err = noLevel(u, v)
		}
		if err == nil {
			u, err = sound(Unit{Dim: u.Dim.Div(v.Dim), Factor: u.Factor / v.Factor})
		}
	}
	return u, err
}

// sound refuses a unit that no one can mean: its powers too high, or its factor no number above 0 any more.
func sound(u Unit) (Unit, error) {
	if !u.Dim.Bounded() {
		return u, fmt.Errorf("a unit with powers beyond %d can't be meant", maxPower)
	}
	if !(u.Factor > 0) || math.IsInf(u.Factor, 0) {
		return u, fmt.Errorf("the unit is too large or too small to compute with")
	}
	return u, nil
}

// noLevel refuses a level of temperature within a compound unit: 2 degC are not twice 1 degC.
func noLevel(parts ...Unit) error {
	for _, u := range parts {
		if u.Dim.Level {
			return fmt.Errorf("degC and degF are levels of temperature and stand alone; in a compound unit write K, W/(m*K)")
		}
	}
	return nil
}

func (p *unitParser) product(depth int) (Unit, int, error) {
	u, err := p.factor(depth)
	n := 1
	for err == nil && p.startsFactor() {
		var v Unit
		if v, err = p.factor(depth); err == nil {
			err = noLevel(u, v)
		}
		if err == nil {
			u, err = sound(Unit{Dim: u.Dim.Mul(v.Dim), Factor: u.Factor * v.Factor})
		}
		n++
	}
	return u, n, err
}

func (p *unitParser) startsFactor() bool {
	if p.take('*') {
		return true
	}
	p.rest = strings.TrimLeft(p.rest, " ")
	return p.rest != "" && !strings.ContainsAny(p.rest[:1], "/)")
}

func (p *unitParser) factor(depth int) (Unit, error) {
	if p.take('(') {
		u, err := p.quotient(depth + 1)
		if err == nil && !p.take(')') {
			err = fmt.Errorf("a bracket in the unit is not closed")
		}
		if err != nil {
			return u, err
		}
		return p.raise(u)
	}
	m := symbolText.FindString(p.rest)
	if m == "" {
		return Unit{}, fmt.Errorf("a unit is missing at %q", p.rest)
	}
	p.rest = p.rest[len(m):]
	u, err := p.sys.symbol(m)
	if err != nil {
		return u, err
	}
	return p.raise(u)
}

var (
	symbolText = regexp.MustCompile(`^((?i:(?:kg|g|t)CO2e?)|1|%|‰|[\pL$€£"°]+)`)
	powerText  = regexp.MustCompile(`^\^?(-?[0-9])`)
)

func (p *unitParser) raise(u Unit) (Unit, error) {
	m := powerText.FindStringSubmatch(p.rest)
	if m == nil {
		return u, nil
	}
	p.rest = p.rest[len(m[0]):]
	n, _ := strconv.Atoi(m[1])
	if n == 0 || n > MaxWritten || n < -MaxWritten {
		return u, fmt.Errorf("the power %d of a unit can't be meant", n)
	}
	if err := noLevel(u); err != nil {
		return u, err
	}
	return sound(Unit{Dim: u.Dim.Pow(n), Factor: math.Pow(u.Factor, float64(n))})
}

func (p *unitParser) take(c byte) bool {
	p.rest = strings.TrimLeft(p.rest, " ")
	if p.rest == "" || p.rest[0] != c {
		return false
	}
	p.rest = p.rest[1:]
	return true
}

// A Quantity is a number with the unit it was written in; Unit.Text is empty where none was written.
type Quantity struct {
	Number float64
	Unit   Unit
	Bare   bool // no unit was written
}

// Coherent returns the value in coherent units.
func (q Quantity) Coherent() float64 { return q.Unit.Coherent(q.Number) }

// unitBehind is how a unit may begin behind a number, to the end of the text.
const unitBehind = `(\s*[\pL%‰$€£"°/].*|\s+1/.*)?$`

var (
	numberText   = regexp.MustCompile(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?`)
	decimalComma = regexp.MustCompile(`^([+-]?[0-9]+),([0-9]+)` + unitBehind)
	pointComma   = regexp.MustCompile(`^[+-]?[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+` + unitBehind)
	thousands    = regexp.MustCompile(`^([+-]?[0-9]{1,3}(?:[,'’ \x{a0}\x{2009}\x{202f}][0-9]{3})+(?:\.[0-9]+)?)` + unitBehind)
)

// ErrNotQuantity says that a text does not begin like a quantity at all.
var ErrNotQuantity = fmt.Errorf("not a quantity")

// ParseQuantity reads "2.5 s", "14 %", "60000". It returns ErrNotQuantity for a text that is no number with or without
// a unit (it may be a formula), and another error, fit to be shown, for a decimal comma, a thousands separator or a
// unit that can't be read. "60000 /yr" is a quantity, "60/2" is not.
func (s *System) ParseQuantity(text string) (Quantity, error) {
	text = strings.TrimSpace(text)
	if thousands.MatchString(text) || pointComma.MatchString(text) || manyPoints.MatchString(text) {
		return Quantity{}, fmt.Errorf(`"%s" has a thousands separator or a decimal comma; write the number with a point and without separators`, text)
	}
	if m := decimalComma.FindStringSubmatch(text); m != nil {
		return Quantity{}, fmt.Errorf("decimal comma; write %s%s", unmistakable(m[1]+"."+m[2]), m[3])
	}
	m := numberText.FindString(text)
	if m == "" {
		return Quantity{}, ErrNotQuantity
	}
	n, err := strconv.ParseFloat(m, 64)
	if err != nil {
		return Quantity{}, fmt.Errorf("%s is too large or too small a number", m)
	}
	rest := strings.TrimSpace(text[len(m):])
	if rest == "" {
		return Quantity{Number: n, Unit: One, Bare: true}, nil
	}
	if !looksLikeUnit.MatchString(rest) {
		return Quantity{}, ErrNotQuantity
	}
	u, err := s.unitAfterNumber(rest)
	if err != nil {
		return Quantity{}, err
	}
	q := Quantity{Number: n, Unit: u}
	if math.IsInf(q.Coherent(), 0) {
		return Quantity{}, fmt.Errorf("%s is too large or too small a number", text)
	}
	return q, nil
}

// unitAfterNumber reads "mm" or "/yr"; what begins with a slash and is no unit may be a formula, 3600 / plant.hours.
func (s *System) unitAfterNumber(rest string) (Unit, error) {
	if rest[0] != '/' {
		return s.Parse(rest)
	}
	u, err := s.Parse("1" + rest)
	if err != nil {
		return u, ErrNotQuantity
	}
	return u, nil
}

// looksLikeUnit keeps "2 * x" and "3 > 2" from being read as a number with a unit.
var looksLikeUnit = regexp.MustCompile(`^(/\s*\pL|1/|[\pL%‰$€£"°])[^<>=?:+]*$`)

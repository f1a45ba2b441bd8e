package units

import (
	"fmt"
	"strings"
)

// A Dim is a dimension: the exponents of the five bases. The zero value is the dimension of a plain number.
type Dim struct {
	Length, Mass, Time, Currency, Year int8
}

// The dimensions that formulas and tests speak of most.
var (
	None     = Dim{}
	Length   = Dim{Length: 1}
	Mass     = Dim{Mass: 1}
	Time     = Dim{Time: 1}
	Currency = Dim{Currency: 1}
	Year     = Dim{Year: 1}
	PerYear  = Dim{Year: -1}
)

// Mul returns the dimension of a product.
func (d Dim) Mul(e Dim) Dim {
	return Dim{d.Length + e.Length, d.Mass + e.Mass, d.Time + e.Time, d.Currency + e.Currency, d.Year + e.Year}
}

// Div returns the dimension of a quotient.
func (d Dim) Div(e Dim) Dim { return d.Mul(e.Pow(-1)) }

// Pow returns the dimension of a whole power.
func (d Dim) Pow(n int) Dim {
	k := int8(n)
	return Dim{d.Length * k, d.Mass * k, d.Time * k, d.Currency * k, d.Year * k}
}

// Sqrt returns the dimension of a square root, and false where an exponent is odd.
func (d Dim) Sqrt() (Dim, bool) {
	for _, e := range []int8{d.Length, d.Mass, d.Time, d.Currency, d.Year} {
		if e%2 != 0 {
			return Dim{}, false
		}
	}
	return Dim{d.Length / 2, d.Mass / 2, d.Time / 2, d.Currency / 2, d.Year / 2}, true
}

// maxPower is the largest exponent of a base that can be meant. Products and powers (up to MaxWritten) of dimensions within
// it never leave an int8.
const maxPower = 12

// MaxWritten is the largest power that can be written behind a symbol, a bracket or a name of an expression. No unit of the trade goes beyond 4 (an
// area moment of inertia, m4); a higher one than 6 is a slip: "m8" for "m3".
const MaxWritten = 6

// Bounded tells whether every exponent is one that can be meant. What computes with dimensions asks it after each step,
// so that an exponent never wraps around to something harmless.
func (d Dim) Bounded() bool {
	for _, e := range []int8{d.Length, d.Mass, d.Time, d.Currency, d.Year} {
		if e > maxPower || e < -maxPower {
			return false
		}
	}
	return true
}

// named holds the words a person uses for a dimension, for messages only.
var named = map[Dim]string{
	None:                            "plain number",
	Length:                          "length",
	{Length: 2}:                     "area",
	{Length: 3}:                     "volume",
	Mass:                            "mass",
	Time:                            "time",
	Currency:                        "money",
	Year:                            "years",
	PerYear:                         "number per year",
	{Time: 1, Year: -1}:             "time per year",
	{Currency: 1, Year: -1}:         "money per year",
	{Currency: 1, Mass: -1}:         "money by mass",
	{Currency: 1, Time: -1}:         "money by time",
	{Mass: 1, Length: -3}:           "density",
	{Mass: 1, Year: -1}:             "mass per year",
	{Length: 1, Mass: 1, Time: -2}:  "force",
	{Length: -1, Mass: 1, Time: -2}: "pressure",
	{Length: 2, Mass: 1, Time: -2}:  "energy",
	{Length: 2, Mass: 1, Time: -3}:  "power",
	{Length: 1, Time: -1}:           "speed",
	{Time: 1, Length: -1}:           "time by length",
	{Currency: 1, Length: -2}:       "money by area",
	{Length: -2, Mass: -1, Time: 2}: "1/energy",
	{Currency: 1, Length: -2, Mass: -1, Time: 2}: "money by energy",
}

// Describe names a dimension for a message: "mass [kg]", "money by mass [currency/kg]".
func (d Dim) Describe() string {
	if d == None {
		return "a plain number"
	}
	if name, ok := named[d]; ok {
		return fmt.Sprintf("%s [%s]", name, d)
	}
	return fmt.Sprintf("[%s]", d)
}

// String writes the dimension in coherent units, "kg/m3"; a plain number is "1".
func (d Dim) String() string {
	var up, down []string
	for _, b := range []struct {
		symbol string
		power  int8
	}{{"currency", d.Currency}, {"kg", d.Mass}, {"m", d.Length}, {"s", d.Time}, {"yr", d.Year}} {
		switch {
		case b.power > 0:
			up = append(up, power(b.symbol, b.power))
		case b.power < 0:
			down = append(down, power(b.symbol, -b.power))
		}
	}
	text := strings.Join(up, "*")
	if text == "" {
		text = "1"
	}
	switch len(down) {
	case 0:
		return text
	case 1:
		return text + "/" + down[0]
	}
	return text + "/(" + strings.Join(down, "*") + ")"
}

func power(symbol string, n int8) string {
	if n == 1 {
		return symbol
	}
	return fmt.Sprintf("%s%d", symbol, n)
}

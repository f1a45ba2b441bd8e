package units

import (
	"fmt"
	"math"
	"strings"
)

// A Dim is a dimension: the exponents of its bases. The zero value is the dimension of a plain number. Temperature counts
// differences, in kelvin. Level marks a temperature that is read on a scale, in degree Celsius: it has no multiples, only a
// difference to another level; CO2e is an amount of greenhouse gases, which is no mass that could be weighed.
type Dim struct {
	Length, Mass, Time, Currency, Year, Temperature, Current, CO2e int8

	Level bool
}

// The dimensions that formulas and tests speak of most.
var (
	None        = Dim{}
	Length      = Dim{Length: 1}
	Mass        = Dim{Mass: 1}
	Time        = Dim{Time: 1}
	Currency    = Dim{Currency: 1}
	Year        = Dim{Year: 1}
	PerYear     = Dim{Year: -1}
	Temperature = Dim{Temperature: 1}
	Level       = Dim{Temperature: 1, Level: true}
	Current     = Dim{Current: 1}
	CO2e        = Dim{CO2e: 1}
)

// powers are the exponents of the bases, in one order.
func (d Dim) powers() [8]int8 {
	return [8]int8{d.Length, d.Mass, d.Time, d.Currency, d.Year, d.Temperature, d.Current, d.CO2e}
}

// ofPowers is the inverse of powers.
func ofPowers(p [8]int8) Dim {
	return Dim{Length: p[0], Mass: p[1], Time: p[2], Currency: p[3], Year: p[4], Temperature: p[5], Current: p[6], CO2e: p[7]}
}

// Mul returns the dimension of a product. Who multiplies asks first whether a side is a level, which has no product.
func (d Dim) Mul(e Dim) Dim {
	p, q := d.powers(), e.powers()
	for i := range p {
		p[i] += q[i]
	}
	return ofPowers(p)
}

// Div returns the dimension of a quotient.
func (d Dim) Div(e Dim) Dim { return d.Mul(e.Pow(-1)) }

// Pow returns the dimension of a whole power.
func (d Dim) Pow(n int) Dim {
	p := d.powers()
	for i := range p {
		p[i] *= int8(n)
	}
	return ofPowers(p)
}

// Raise returns the dimension of any power, as m of m2 to the power 0.5, and false where an exponent of a base would be no
// whole number, or for a level.
func (d Dim) Raise(e float64) (Dim, bool) {
	p := d.powers()
	for i := range p {
		power := float64(p[i]) * e
		whole := math.Round(power)
		if !(math.Abs(power-whole) <= 1e-9) || math.Abs(whole) > math.MaxInt8 {
			return Dim{}, false
		}
		p[i] = int8(whole)
	}
	return ofPowers(p), !d.Level
}

// Sqrt returns the dimension of a square root, and false where an exponent is odd.
func (d Dim) Sqrt() (Dim, bool) { return d.Raise(0.5) }

// maxPower is the largest exponent of a base that can be meant. Products and powers (up to MaxWritten) of dimensions within
// it never leave an int8.
const maxPower = 12

// MaxWritten is the largest power that can be written behind a symbol, a bracket or a name of an expression. No unit of the trade goes beyond 4 (an
// area moment of inertia, m4); a higher one than 6 is a slip: "m8" for "m3".
const MaxWritten = 6

// Bounded tells whether every exponent is one that can be meant. What computes with dimensions asks it after each step,
// so that an exponent never wraps around to something harmless.
func (d Dim) Bounded() bool {
	for _, e := range d.powers() {
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

	Temperature:                            "a difference of temperatures",
	Level:                                  "a level of temperature",
	Current:                                "electric current",
	CO2e:                                   "amount of CO2e",
	voltage:                                "voltage",
	resistance:                             "electric resistance",
	{Length: 2, Time: -2, Temperature: -1}: "heat capacity by mass",
	{Mass: 1, Time: -3, Temperature: -1}:   "heat transfer coefficient",
	{Length: 1, Mass: 1, Time: -3, Temperature: -1}: "heat conductivity",
	{Temperature: 1, Time: -1}:                      "temperature by time",
	{CO2e: 1, Mass: -1}:                             "CO2e by mass",
	{CO2e: 1, Length: -2, Mass: -1, Time: 2}:        "CO2e by energy",
	{Currency: 1, CO2e: -1}:                         "money by CO2e",
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
	if d.Level {
		return "degC"
	}
	var up, down []string
	for _, b := range []struct {
		symbol string
		power  int8
	}{{"currency", d.Currency}, {"kgCO2e", d.CO2e}, {"kg", d.Mass}, {"m", d.Length}, {"s", d.Time}, {"K", d.Temperature}, {"A", d.Current},
		{"yr", d.Year}} {
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

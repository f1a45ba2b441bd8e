package units_test

import (
	"math"
	"strings"
	"testing"

	"piececost/costmodel/units"
)

// TestParseAccepts reads composed units; the factors follow from those of TestFactorsByDefinition by hand.
func TestParseAccepts(t *testing.T) {
	perMass := units.Dim{Currency: 1, Mass: -1}
	for _, c := range []struct {
		text   string
		dim    units.Dim
		factor float64
	}{
		{"", units.None, 1},
		{"  ", units.None, 1},
		{"1/yr", units.PerYear, 1},
		{"%/yr", units.PerYear, 0.01},
		{"1/month", units.PerYear, 12},
		{"kg/m3", units.Dim{Mass: 1, Length: -3}, 1},
		{"g/cm3", units.Dim{Mass: 1, Length: -3}, 1000},
		{"m^2", area, 1},
		{"m2", area, 1},
		{"mm²", area, 1e-6},
		{"m^-2", units.Dim{Length: -2}, 1},
		{"m⁻²", units.Dim{Length: -2}, 1},
		{"s⁻¹", units.Dim{Time: -1}, 1},
		{"EUR/kg", perMass, 1},
		{" EUR / kg ", perMass, 1},
		{"EUR/\nkg", perMass, 1},
		{"EUR/t", perMass, 1e-3},
		{"USD/lb", perMass, 0.8 / 0.45359237},
		{"JPY/kg", perMass, 0.00625},
		{"currency/kg", perMass, 1},
		{"EUR/(kg*h)", units.Dim{Currency: 1, Mass: -1, Time: -1}, 1.0 / 3600},
		{"EUR/(kg h)", units.Dim{Currency: 1, Mass: -1, Time: -1}, 1.0 / 3600},
		{"EUR/kg/h", units.Dim{Currency: 1, Mass: -1, Time: -1}, 1.0 / 3600},
		{"kg·m", units.Dim{Mass: 1, Length: 1}, 1},
		{"kg×m", units.Dim{Mass: 1, Length: 1}, 1},
		{"kg m", units.Dim{Mass: 1, Length: 1}, 1},
		{"(mm)2", area, 1e-6},
		{"(kg*m/s)2", units.Dim{Mass: 2, Length: 2, Time: -2}, 1},
		{"((m2)3)2", units.Dim{Length: 12}, 1},
		{strings.Repeat("1*", 49) + "mm", units.Length, 1e-3}, // 100 characters
		{"((((m))))", units.Length, 1},
		{"m6", units.Dim{Length: 6}, 1},
		{"mm-6", units.Dim{Length: -6}, 1e18},
		{"(m6)2", units.Dim{Length: 12}, 1},
		{"h/yr", units.Dim{Time: 1, Year: -1}, 3600},
		{"EUR/kWh", units.Dim{Currency: 1, Length: -2, Mass: -1, Time: 2}, 1 / 3.6e6},
	} {
		u, err := euros(t).Parse(c.text)
		if err != nil || u.Dim != c.dim || math.Abs(u.Factor-c.factor) > 1e-12*c.factor {
			t.Errorf("Parse(%q) = %v %v, %v; want %v %v", c.text, u.Factor, u.Dim, err, c.factor, c.dim)
		}
		if want := strings.TrimSpace(c.text); err == nil && want != "" && u.Text != want {
			t.Errorf("Parse(%q) keeps the text %q", c.text, u.Text)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ text, message string }{
		{"sec", `unknown unit "sec"; did you mean s?`},
		{"Kg", `unknown unit "Kg"; did you mean kg?`},
		{"KWH", `unknown unit "KWH"; did you mean kWh?`},
		{"mpa", `unknown unit "mpa"; did you mean MPa?`},
		{"mw", `unknown unit "mw"; did you mean MW?`},
		{"eur", `unknown unit "eur"; did you mean EUR?`},
		{"€/kg", `unknown unit "€"; did you mean EUR?`},
		{"lbs", `unknown unit "lbs"; did you mean lb?`},
		{"ton", `unknown unit "ton"; did you mean t (1,000 kg)?`},
		{"piece/h", `unknown unit "piece"; did you mean pieces?`},
		{"furlong", `unknown unit "furlong"` + unitsAre},
		{"CHF/kg", "no exchange rate for CHF; add a row for it to the sheet Currencies"},
		{"EUR/kg*h", "a unit like a/b*c can be read in two ways; write a/(b*c) or a*c/b"},
		{"EUR/kg h", "a unit like a/b*c can be read in two ways; write a/(b*c) or a*c/b"},
		{"kg/(m3", "a bracket in the unit is not closed"},
		{"kg)", `unit "kg)": ")" can't be read`},
		{"kg/", `a unit is missing at ""`},
		{"/yr", `a unit is missing at "/yr"`},
		{"5 mm", `a unit is missing at "5 mm"`},
		{"m+s", `a unit is missing at "+s"`},
		{"m0", "the power 0 of a unit can't be meant"},
		{"m9", "the power 9 of a unit can't be meant"},
		{"m7", "the power 7 of a unit can't be meant"},
		{"m-7", "the power -7 of a unit can't be meant"},
		{"(((((m)))))", "too many brackets in a unit"},
		{strings.Repeat("1*", 50) + "m", "a unit of 101 characters can't be read"},
		{strings.Repeat("m*", 60) + "m", "a unit of 121 characters can't be read"},
		// powers beyond what can be meant would wrap around: (m^36)^6 to 1/m^40
		{"((m6)6)6", "a unit with powers beyond 12 can't be meant"},
		{"m6*m6*m6", "a unit with powers beyond 12 can't be meant"},
		{"1/m6/m6/m6", "a unit with powers beyond 12 can't be meant"},
	} {
		if u, err := euros(t).Parse(c.text); err == nil || err.Error() != c.message {
			t.Errorf("Parse(%q) = %v, %v\nwant the message %s", c.text, u, err, c.message)
		}
	}
}

const unitsAre = "; units are such as mm, kg, s, h, kWh, EUR, 1 and what is made of them, such as EUR/kg"

package units_test

import (
	"errors"
	"math"
	"testing"

	"piececost/costmodel/units"
)

func TestParseQuantityAccepts(t *testing.T) {
	for _, c := range []struct {
		text     string
		number   float64
		unit     string
		coherent float64 // by hand from the factors of TestFactorsByDefinition
	}{
		{"2.5 s", 2.5, "s", 2.5},
		{"2.5s", 2.5, "s", 2.5},
		{" 0.028 in ", 0.028, "in", 0.0007112},
		{"14 %", 14, "%", 0.14},
		{"14%", 14, "%", 0.14},
		{"-3 mm", -3, "mm", -0.003},
		{"+3 mm", 3, "mm", 0.003},
		{".5 mm", .5, "mm", 0.0005},
		{"5. mm", 5, "mm", 0.005},
		{"1e3 mm", 1e3, "mm", 1},
		{"2e-3 m", 2e-3, "m", 0.002},
		{"60000 1/yr", 60000, "1/yr", 60000},
		{"60000 /yr", 60000, "1/yr", 60000},
		{"60000/yr", 60000, "1/yr", 60000},
		{"8 %/yr", 8, "%/yr", 0.08},
		{"1.2 EUR/kg", 1.2, "EUR/kg", 1.2},
		{"1500 JPY", 1500, "JPY", 9.375},
		{"2 EUR/(kg*h)", 2, "EUR/(kg*h)", 2.0 / 3600},
		{"5 mm²", 5, "mm²", 5e-6},
		{"5\u00a0mm", 5, "mm", 0.005}, // a blank that does not break
	} {
		q, err := euros(t).ParseQuantity(c.text)
		if err != nil || q.Bare || q.Number != c.number || q.Unit.Text != c.unit || math.Abs(q.Coherent()-c.coherent) > 1e-15*math.Abs(c.coherent) {
			t.Errorf("ParseQuantity(%q) = %+v, %v", c.text, q, err)
		}
	}
}

func TestParseQuantityBare(t *testing.T) {
	for text, want := range map[string]float64{"60000": 60000, "-1": -1, "+2.5": 2.5, "1e3": 1000, ".5": 0.5, " 7 ": 7, "1e-400": 0} {
		if q, err := euros(t).ParseQuantity(text); err != nil || !q.Bare || q.Number != want || q.Unit != units.One {
			t.Errorf("ParseQuantity(%q) = %+v, %v", text, q, err)
		}
	}
}

// TestNotAQuantity lists texts that may be formulas: they get no message of their own.
func TestNotAQuantity(t *testing.T) {
	for _, text := range []string{
		"", "-", "abc", "base * 1.1", "2 * x", "2*x", "3 > 2", "3 >= 2", "1 - scrap_share", "1 + 2", "5 mm + 2 mm", "max(1, 2)",
		"5 / 2", "60/2", "1/3", "3600 / plant.hours", "60/cycle_time", "1_000", "inf", "NaN", "=5 mm", "2 == 2", "12 (kg)", "1 ? 2 : 3",
	} {
		if q, err := euros(t).ParseQuantity(text); !errors.Is(err, units.ErrNotQuantity) {
			t.Errorf("ParseQuantity(%q) = %+v, %v; it is no quantity", text, q, err)
		}
	}
}

func TestParseQuantityRefuses(t *testing.T) {
	separators := func(text string) string {
		return `"` + text + `" has a thousands separator or a decimal comma; write the number with a point and without separators`
	}
	for _, c := range []struct{ text, message string }{
		{"0,7 mm", "decimal comma; write 0.7 mm"},
		{"0,7mm", "decimal comma; write 0.7mm"},
		{"-0,7", "decimal comma; write -0.7"},
		{"1,5e3 mm", "decimal comma; write 1.5e3 mm"},
		{"12,50 €", "decimal comma; write 12.50 €"},
		{"0,5 1/yr", "decimal comma; write 0.5 1/yr"},
		{"0,5 /yr", "decimal comma; write 0.5 /yr"},
		{"1200,5 kg", "decimal comma; write 1200.5 kg"},
		{"1,200", separators("1,200")}, // 1200 or 1.2: it can't be told
		{"1,200 mm", separators("1,200 mm")},
		{"1,234,567.8 EUR", separators("1,234,567.8 EUR")},
		{"60 000 1/yr", separators("60 000 1/yr")},
		{"60'000", separators("60'000")},
		{"60’000", separators("60’000")},
		{"60\u00a0000", separators("60\u00a0000")},       // a blank that does not break
		{"60\u202f000", separators("60\u202f000")},       // the narrow one
		{"60\u2009000 kg", separators("60\u2009000 kg")}, // a thin one, as ISO 80000-1 sets it
		{"1.234,56 mm", separators("1.234,56 mm")},
		{"1.234.567,8", separators("1.234.567,8")},
		{"5 sec", `unknown unit "sec"; did you mean s?`},
		{"5 $", `unknown unit "$"; did you mean USD?`},
		{`5 "`, `unknown unit "\""; did you mean in?`},
		{"5 xyz", `unknown unit "xyz"` + unitsAre},
		{"5 CHF", "no exchange rate for CHF; add a row for it to the sheet Currencies"},
		{"5 EUR/kg*h", "a unit like a/b*c can be read in two ways; write a/(b*c) or a*c/b"},
		{"1e400", "1e400 is too large or too small a number"},
		{"1e308 km", "1e308 km is too large or too small a number"},
	} {
		if q, err := euros(t).ParseQuantity(c.text); err == nil || err.Error() != c.message {
			t.Errorf("ParseQuantity(%q) = %+v, %v\nwant the message %s", c.text, q, err, c.message)
		}
	}
}

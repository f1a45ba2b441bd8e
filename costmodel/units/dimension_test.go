package units_test

import (
	"testing"

	"piececost/costmodel/units"
)

func TestDimensionAlgebra(t *testing.T) {
	d := units.Dim{Length: 1, Mass: -2, Time: 3, Currency: -1, Year: 2}
	for what, pair := range map[string][2]units.Dim{
		"d * 1":     {d.Mul(units.None), d},
		"d / d":     {d.Div(d), units.None},
		"d * d":     {d.Mul(d), d.Pow(2)},
		"1 / d":     {units.None.Div(d), d.Pow(-1)},
		"d ^ 0":     {d.Pow(0), units.None},
		"(d^2)^3":   {d.Pow(2).Pow(3), d.Pow(6)},
		"m * m":     {units.Length.Mul(units.Length), area},
		"1/yr * yr": {units.PerYear.Mul(units.Year), units.None},
	} {
		if pair[0] != pair[1] {
			t.Errorf("%s = %v, not %v", what, pair[0], pair[1])
		}
	}
	if r, ok := d.Pow(2).Sqrt(); !ok || r != d {
		t.Errorf("sqrt(d^2) = %v, %v", r, ok)
	}
	for _, odd := range []units.Dim{d, units.Mass, units.PerYear, {Length: 2, Time: -3}} {
		if r, ok := odd.Sqrt(); ok {
			t.Errorf("sqrt(%v) = %v", odd, r)
		}
	}
}

// TestBounded: the square of 6 m6 is the last that can be meant.
func TestBounded(t *testing.T) {
	for power, want := range map[int]bool{12: true, -12: true, 13: false, -13: false, 0: true} {
		for _, base := range []units.Dim{units.Length, units.Mass, units.Time, units.Currency, units.Year} {
			if got := base.Pow(power).Bounded(); got != want {
				t.Errorf("%v bounded: %v", base.Pow(power), got)
			}
		}
	}
}

func TestDimensionInWords(t *testing.T) {
	for _, c := range []struct {
		dim             units.Dim
		text, described string
	}{
		{units.None, "1", "a plain number"},
		{units.Mass, "kg", "mass [kg]"},
		{units.PerYear, "1/yr", "number per year [1/yr]"},
		{area, "m2", "area [m2]"},
		{units.Dim{Currency: 1, Mass: -1}, "currency/kg", "money by mass [currency/kg]"},
		{units.Dim{Currency: 1, Time: -1}, "currency/s", "money by time [currency/s]"},
		{units.Dim{Mass: 1, Length: -3}, "kg/m3", "density [kg/m3]"},
		{force, "kg*m/s2", "force [kg*m/s2]"},
		{pressure, "kg/(m*s2)", "pressure [kg/(m*s2)]"},
		{energy, "kg*m2/s2", "energy [kg*m2/s2]"},
		{power, "kg*m2/s3", "power [kg*m2/s3]"},
		{units.Dim{Currency: 2, Year: -1, Mass: -1}, "currency2/(kg*yr)", "[currency2/(kg*yr)]"},
		{units.Dim{Length: -2, Time: -1}, "1/(m2*s)", "[1/(m2*s)]"},
	} {
		if c.dim.String() != c.text || c.dim.Describe() != c.described {
			t.Errorf("%#v reads %q and %q, not %q and %q", c.dim, c.dim.String(), c.dim.Describe(), c.text, c.described)
		}
	}
}

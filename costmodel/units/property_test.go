package units_test

import (
	"errors"
	"math"
	"math/rand"
	"strings"
	"testing"

	"piececost/costmodel/units"
)

// TestDimensionPrintsAsItParses: the text of any dimension, read as a unit, is that dimension with the factor 1.
func TestDimensionPrintsAsItParses(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	s := euros(t)
	for range 2000 {
		d := units.Dim{Length: power6(r), Mass: power6(r), Time: power6(r), Currency: power6(r), Year: power6(r),
			Temperature: power6(r), Current: power6(r), CO2e: power6(r)}
		if u, err := s.Parse(d.String()); err != nil || u.Dim != d || u.Factor != 1 {
			t.Fatalf("%#v prints as %q, which is read as %v %v, %v", d, d.String(), u.Factor, u.Dim, err)
		}
	}
}

func power6(r *rand.Rand) int8 {
	if r.Intn(2) == 0 {
		return 0
	}
	return int8(r.Intn(13) - 6)
}

// TestUnitsMultiply: a unit composed of two texts has the product of their dimensions and factors, a quotient the
// quotient, unless the powers are beyond what can be meant; the text it keeps is read as the same unit again.
func TestUnitsMultiply(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	s := euros(t)
	for range 2000 {
		a, b := someUnit(t, s, r), someUnit(t, s, r)
		product, err1 := s.Parse("(" + a.Text + ")*(" + b.Text + ")")
		quotient, err2 := s.Parse("(" + a.Text + ")/(" + b.Text + ")")
		if (err1 == nil) != a.Dim.Mul(b.Dim).Bounded() || (err2 == nil) != a.Dim.Div(b.Dim).Bounded() {
			t.Fatalf("%q and %q: %v, %v", a.Text, b.Text, err1, err2)
		}
		if err1 != nil || err2 != nil {
			continue
		}
		if product.Dim != a.Dim.Mul(b.Dim) || product.Factor != a.Factor*b.Factor {
			t.Fatalf("%q is %v %v", product.Text, product.Factor, product.Dim)
		}
		if quotient.Dim != a.Dim.Div(b.Dim) || quotient.Factor != a.Factor/b.Factor {
			t.Fatalf("%q is %v %v", quotient.Text, quotient.Factor, quotient.Dim)
		}
		if again, err := s.Parse(quotient.Text); err != nil || again != quotient {
			t.Fatalf("%q read again is %v, %v", quotient.Text, again, err)
		}
	}
}

// someUnit makes a unit of one to three symbols, some with powers, at most one below the line.
func someUnit(t *testing.T, s *units.System, r *rand.Rand) units.Unit {
	symbols := []string{"m", "mm", "in", "kg", "lb", "s", "min", "h", "yr", "month", "EUR", "USD", "currency", "%", "1", "kN", "bar", "µm",
		"K", "degR", "A", "kA", "deg", "kgCO2e", "tCO2e"}
	powers := []string{"", "", "", "2", "^2", "-1", "²", "3"}
	pick := func() string { return symbols[r.Intn(len(symbols))] + powers[r.Intn(len(powers))] }
	text := pick()
	for range r.Intn(2) {
		text += []string{"*", " ", "·"}[r.Intn(3)] + pick()
	}
	if r.Intn(2) == 0 {
		text += "/" + pick()
	}
	u, err := s.Parse(text)
	if err != nil {
		t.Fatalf("Parse(%q): %v", text, err)
	}
	return u
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"", "kg/m3", "EUR/(kg*h)", "%/yr", "m^-2", "a/b*c", "((m6)6)6", "GPa6*GPa6", "mm²·s⁻¹", "€", "kg)", "1/1/1",
		"W/(m2*K)", "degC", "degF", "degC/min", "(degF)", "kgCO2e/kWh", "kgCO2", "gCO2e2", "A*V", "deg/s"} {
		f.Add(text)
	}
	s := euros(f)
	f.Fuzz(func(t *testing.T, text string) {
		u, err := s.Parse(text)
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without a word")
			}
			return
		}
		if !u.Dim.Bounded() || !(u.Factor > 0) || math.IsInf(u.Factor, 0) {
			t.Errorf("Parse(%q) = %v %v", text, u.Factor, u.Dim)
		}
		if again, err := s.Parse(u.Text); err != nil || again.Dim != u.Dim || again.Factor != u.Factor || again.Zero != u.Zero {
			t.Errorf("Parse(%q) keeps the text %q, which is read as %v, %v", text, u.Text, again, err)
		}
	})
}

func FuzzParseQuantity(f *testing.F) {
	for _, text := range []string{"2.5 s", "0,7 mm", "1,200", "60000 /yr", "60/2", "1e308 km", "5 \"", "-.5e-3 EUR/kg", "1.234,5 €", "12 %",
		"-40 degF", "900 °C", "5 K", "30 deg", "1e308 degF", "2 tCO2e"} {
		f.Add(text)
	}
	s := euros(f)
	f.Fuzz(func(t *testing.T, text string) {
		q, err := s.ParseQuantity(text)
		switch {
		case errors.Is(err, units.ErrNotQuantity):
		case err != nil:
			if err.Error() == "" || !strings.ContainsAny(strings.TrimSpace(text)[:1], "+-.0123456789") {
				t.Errorf("ParseQuantity(%q): %v, but it does not begin like a number", text, err)
			}
		case math.IsInf(q.Coherent(), 0) || math.IsNaN(q.Coherent()) || !(q.Unit.Factor > 0) || q.Bare != (q.Unit == units.One):
			t.Errorf("ParseQuantity(%q) = %+v", text, q)
		}
	})
}

package units_test

import (
	"math"
	"strings"
	"testing"

	"piececost/costmodel/units"
)

// TestLevels: fixed points of the scales. Freezing and boiling of water, 32 and 212 degF; the scales meet at -40; absolute zero is
// -459.67 degF; a body has 98.6 degF (NIST SP 811, appendix B.8: t/degC = (t/degF - 32)/1.8).
func TestLevels(t *testing.T) {
	for text, want := range map[string]float64{
		"32 degF": 0, "212 degF": 100, "-40 degF": -40, "-459.67 degF": -273.15, "98.6 °F": 37, "900 degC": 900, "-40 °C": -40, "1652degF": 900,
	} {
		q, err := euros(t).ParseQuantity(text)
		if err != nil || q.Unit.Dim != units.Level || math.Abs(q.Coherent()-want) > 1e-12*math.Max(1, math.Abs(want)) {
			t.Errorf("%s is %v degC, %v; want %v", text, q.Coherent(), err, want)
			continue
		}
		if back := q.Unit.Shown(q.Coherent()); math.Abs(back-q.Number) > 1e-12*math.Max(1, math.Abs(q.Number)) {
			t.Errorf("%s comes back as %v", text, back)
		}
	}
	for text, want := range map[string]float64{"10 K": 10, "18 degR": 10} {
		if q, err := euros(t).ParseQuantity(text); err != nil || q.Unit.Dim != units.Temperature || q.Coherent() != want {
			t.Errorf("%s is %+v, %v", text, q, err)
		}
	}
}

// TestDifferenceOfLevels: 180 of Fahrenheit's degrees are the 100 K between freezing and boiling.
func TestDifferenceOfLevels(t *testing.T) {
	for symbol, want := range map[string]float64{"degC": 180, "degF": 100, "mm": 0.18} {
		u, err := euros(t).Parse(symbol)
		d := u.Difference()
		if err != nil || math.Abs(d.Coherent(180)-want) > 1e-12 || d.Zero != 0 || d.Dim.Level {
			t.Errorf("180 of the differences in %s are %v, %+v, %v", symbol, d.Coherent(180), d, err)
		}
		if again, err := euros(t).Parse(d.Text); err != nil || !again.Same(d) {
			t.Errorf("%q is read as %+v, %v", d.Text, again, err)
		}
	}
}

// TestLevelsStandAlone: no multiple of a level means anything.
func TestLevelsStandAlone(t *testing.T) {
	for _, text := range []string{"degC/min", "W/(m*degC)", "degF2", "1/degC", "kg*degC", "degC m", "%*degC", "degC-1", "J/(kg*°C)"} {
		if u, err := euros(t).Parse(text); err == nil || !strings.Contains(err.Error(), "in a compound unit write K") {
			t.Errorf("%s: %+v, %v", text, u, err)
		}
	}
	if u, err := euros(t).Parse("(degF)"); err != nil || u.Zero != 32 {
		t.Errorf("(degF): %+v, %v", u, err)
	}
	if d, ok := units.Level.Sqrt(); ok {
		t.Errorf("the square root of a level is %v", d)
	}
}

// TestNearlyKnownUnits: what people write for the new units is answered with the symbol; a keeps its year, A is the ampere.
func TestNearlyKnownUnits(t *testing.T) {
	for text, near := range map[string]string{
		"kelvin": "K", "k": "K", "celsius": "degC", "DEGC": "degC", "amp": "A", "ka": "kA", "volt": "V", "v": "V", "Ohm": "ohm",
		"degree": "deg (of an angle) or degC", "radian": "rad", "kgCO2": "kgCO2e", "TCO2e": "tCO2e",
	} {
		u, err := euros(t).Parse(text)
		if err == nil || !strings.Contains(err.Error(), "did you mean "+near+"?") {
			t.Errorf("%s: %+v, %v; want %s", text, u, err, near)
		}
	}
	for symbol, want := range map[string]units.Dim{"a": units.Year, "A": units.Current} {
		if u, err := euros(t).Parse(symbol); err != nil || u.Dim != want {
			t.Errorf("%s: %+v, %v", symbol, u, err)
		}
	}
}

// TestRaise: fractional powers work where the exponents come out whole.
func TestRaise(t *testing.T) {
	for _, c := range []struct {
		dim  units.Dim
		e    float64
		want units.Dim
		ok   bool
	}{
		{area, 0.5, units.Length, true}, {units.Length, 0.5, units.Dim{}, false}, {volume, 2.0 / 3, area, true}, {volume, 1.0 / 3, units.Length, true},
		{area, 1.5, volume, true}, {area, -0.5, units.Dim{Length: -1}, true}, {units.None, 0.37, units.None, true}, {area, 0.5000001, units.Dim{}, false},
		{units.Level, 1, units.Dim{}, false}, {area, 1e9, units.Dim{}, false}, {area, math.NaN(), units.Dim{}, false},
	} {
		if got, ok := c.dim.Raise(c.e); ok != c.ok || ok && got != c.want {
			t.Errorf("%v to the power %v is %v, %v", c.dim, c.e, got, ok)
		}
	}
}

// TestGroups: every symbol is listed once, among units of its own dimension.
func TestGroups(t *testing.T) {
	listed := map[string]bool{}
	for _, g := range units.Groups() {
		if g.Measures == "" || len(g.Units) == 0 {
			t.Errorf("a group without a name: %+v", g)
		}
		for _, u := range g.Units {
			if listed[u.Text] || u.Dim.String() != g.Coherent {
				t.Errorf("%s is listed twice, or among %s", u.Text, g.Measures)
			}
			listed[u.Text] = true
			if parsed, err := euros(t).Parse(u.Text); err != nil || !parsed.Same(u) {
				t.Errorf("%s is read as %+v, %v", u.Text, parsed, err)
			}
		}
	}
	for _, symbol := range []string{"mm", "degF", "K", "kA", "ohm", "deg", "tCO2e", "kWh", "cycles", "%"} {
		if !listed[symbol] {
			t.Errorf("%s is not listed", symbol)
		}
	}
}

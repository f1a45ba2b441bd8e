package units_test

import (
	"math"
	"testing"

	"piececost/costmodel/units"
)

// The sources of TestFactorsByDefinition.
const (
	si9   = "SI brochure, 9th ed. (2019), tables 4, 7 and 8"
	si8   = "SI brochure, 8th ed. (2006), table 8 (bar; the 9th ed. lists it no longer)"
	yp59  = "international yard and pound agreement, 1959: yard 0.9144 m, pound 0.453 592 37 kg"
	sp811 = "NIST Special Publication 811 (2008), appendix B"
	own   = "the model's own: an accounting period of 12 months, counts without dimension"
	ipcc  = "IPCC, sixth assessment report (2021), glossary: CO2-equivalent emission, an amount in tonnes of CO2e"
	share = "ISO 80000-1: % is 0.01, 0.001 is written ‰"
)

var (
	force    = units.Dim{Length: 1, Mass: 1, Time: -2}
	pressure = units.Dim{Length: -1, Mass: 1, Time: -2}
	energy   = units.Dim{Length: 2, Mass: 1, Time: -2}
	power    = units.Dim{Length: 2, Mass: 1, Time: -3}
	volume   = units.Dim{Length: 3}
	voltage  = units.Dim{Length: 2, Mass: 1, Time: -3, Current: -1}
	ohms     = units.Dim{Length: 2, Mass: 1, Time: -3, Current: -2}
	area     = units.Dim{Length: 2}
)

// TestFactorsByDefinition holds every symbol against the definition of its unit; all are exact, so the tolerance is that of
// binary numbers.
func TestFactorsByDefinition(t *testing.T) {
	for _, c := range []struct {
		symbol string
		dim    units.Dim
		factor float64
		source string
	}{
		{"m", units.Length, 1, si9}, {"dm", units.Length, 1e-1, si9}, {"cm", units.Length, 1e-2, si9},
		{"mm", units.Length, 1e-3, si9}, {"um", units.Length, 1e-6, si9}, {"µm", units.Length, 1e-6, si9},
		{"km", units.Length, 1e3, si9}, {"l", volume, 1e-3, si9}, {"L", volume, 1e-3, si9},
		{"in", units.Length, 0.9144 / 36, yp59}, {"ft", units.Length, 0.9144 / 3, yp59},
		{"mm2", area, 1e-6, si9}, {"cm3", volume, 1e-6, si9}, {"in2", area, 6.4516e-4, sp811},
		{"kg", units.Mass, 1, si9}, {"g", units.Mass, 1e-3, si9}, {"mg", units.Mass, 1e-6, si9}, {"t", units.Mass, 1e3, si9},
		{"lb", units.Mass, 0.45359237, yp59}, {"oz", units.Mass, 0.45359237 / 16, yp59},
		{"s", units.Time, 1, si9}, {"ms", units.Time, 1e-3, si9}, {"min", units.Time, 60, si9},
		{"h", units.Time, 3600, si9}, {"d", units.Time, 86400, si9},
		{"wk", units.Time, 604800, "ISO 8601: a calendar week has seven days"},
		{"N", force, 1, si9}, {"kN", force, 1e3, si9}, {"MN", force, 1e6, si9},
		{"Pa", pressure, 1, si9}, {"kPa", pressure, 1e3, si9}, {"MPa", pressure, 1e6, si9}, {"GPa", pressure, 1e9, si9},
		{"N/mm2", pressure, 1e6, si9}, {"bar", pressure, 1e5, si8},
		{"J", energy, 1, si9}, {"kJ", energy, 1e3, si9}, {"MJ", energy, 1e6, si9}, {"N*m", energy, 1, si9},
		{"Wh", energy, 3.6e3, sp811}, {"kWh", energy, 3.6e6, sp811}, {"MWh", energy, 3.6e9, sp811},
		{"W", power, 1, si9}, {"kW", power, 1e3, si9}, {"MW", power, 1e6, si9},
		{"yr", units.Year, 1, own}, {"a", units.Year, 1, own}, {"year", units.Year, 1, own}, {"years", units.Year, 1, own},
		{"month", units.Year, 1.0 / 12, own}, {"months", units.Year, 1.0 / 12, own},
		{"1", units.None, 1, own}, {"pc", units.None, 1, own}, {"pcs", units.None, 1, own}, {"pieces", units.None, 1, own}, {"cycles", units.None, 1, own},
		{"K", units.Temperature, 1, si9}, {"degR", units.Temperature, 5.0 / 9, sp811}, {"degC", units.Level, 1, si9}, {"°C", units.Level, 1, si9},
		{"degF", units.Level, 5.0 / 9, sp811}, {"°F", units.Level, 5.0 / 9, sp811},
		{"A", units.Current, 1, si9}, {"mA", units.Current, 1e-3, si9}, {"kA", units.Current, 1e3, si9},
		{"V", voltage, 1, si9}, {"mV", voltage, 1e-3, si9}, {"kV", voltage, 1e3, si9}, {"W/A", voltage, 1, si9}, {"ohm*A", voltage, 1, si9},
		{"ohm", ohms, 1, si9}, {"Ω", ohms, 1, si9}, {"mohm", ohms, 1e-3, si9}, {"mΩ", ohms, 1e-3, si9}, {"uohm", ohms, 1e-6, si9}, {"V/A", ohms, 1, si9},
		{"µΩ", ohms, 1e-6, si9}, {"VA", power, 1, si9}, {"kVA", power, 1e3, si9}, {"V*A", power, 1, si9},
		{"rad", units.None, 1, si9}, {"deg", units.None, math.Pi / 180, si9}, {"°", units.None, math.Pi / 180, si9},
		{"kgCO2e", units.CO2e, 1, ipcc}, {"gCO2e", units.CO2e, 1e-3, ipcc}, {"tCO2e", units.CO2e, 1e3, ipcc}, {"kgCO₂e", units.CO2e, 1, ipcc},
		{"J/(kg*K)", units.Dim{Length: 2, Time: -2, Temperature: -1}, 1, si9}, {"kJ/(kg*K)", units.Dim{Length: 2, Time: -2, Temperature: -1}, 1e3, si9},
		{"W/(m2*K)", units.Dim{Mass: 1, Time: -3, Temperature: -1}, 1, si9}, {"W/(m*K)", units.Dim{Length: 1, Mass: 1, Time: -3, Temperature: -1}, 1, si9},
		{"%", units.None, 0.01, share}, {"‰", units.None, 0.001, share},
	} {
		u, err := euros(t).Parse(c.symbol)
		if err != nil || u.Dim != c.dim || math.Abs(u.Factor-c.factor) > 1e-15*c.factor {
			t.Errorf("1 %s is %v %v (%v), by definition %v %v (%s)", c.symbol, u.Factor, u.Dim, err, c.factor, c.dim, c.source)
		}
	}
}

// TestRoundedFactors compares derived units with the figures a handbook prints, to the digits printed.
func TestRoundedFactors(t *testing.T) {
	for _, c := range []struct {
		unit          string
		factor, digit float64 // the last digit printed
		source        string
	}{
		{"psi", 6.894757e3, 0.001, sp811},
		{"lb/in3", 2.767990e4, 0.01, sp811},
		{"lb/ft3", 1.601846e1, 0.00001, sp811},
		{"oz", 2.834952e-2, 1e-8, sp811},
		{"ft2", 9.290304e-2, 1e-8, sp811},
		{"ft/min", 5.08e-3, 1e-8, sp811},
	} {
		u, err := euros(t).Parse(c.unit)
		if err != nil || math.Abs(u.Factor-c.factor) > c.digit/2 {
			t.Errorf("1 %s is %v (%v), printed %v (%s)", c.unit, u.Factor, err, c.factor, c.source)
		}
	}
}

// euros is a system whose model currency is the euro, with invented rates of three more.
func euros(t testing.TB) *units.System {
	t.Helper()
	s, err := units.NewSystem("EUR", map[string]float64{"USD": 0.8, "JPY": 0.00625, "GBP": 1.25})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

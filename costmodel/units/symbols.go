package units

import "math"

// A Unit says how a number as written becomes coherent, with its dimension and its text.
type Unit struct {
	Text   string  // as written: "EUR/kg", "%/yr"; "" for a plain number
	Dim    Dim     // what it measures
	Factor float64 // coherent value of 1 of it more
	Zero   float64 // what is written where the coherent value is 0: 32 in degF, 0 in all units that are no level
}

// Coherent turns a number in the unit into its coherent value.
func (u Unit) Coherent(number float64) float64 {
	if u.Zero != 0 {
		return (number - u.Zero) * u.Factor
	}
	return number * u.Factor
}

// Shown turns a coherent value into the number in the unit.
func (u Unit) Shown(coherent float64) float64 {
	if u.Zero != 0 {
		return coherent/u.Factor + u.Zero
	}
	return coherent / u.Factor
}

// In turns a number in the unit into the number in another one of the same dimension.
func (u Unit) In(v Unit, number float64) float64 {
	if u.Zero == 0 && v.Zero == 0 {
		return number * (u.Factor / v.Factor)
	}
	return v.Shown(u.Coherent(number))
}

// Difference returns the unit of a difference between two values in the unit: of two levels in degF it is a degree of
// Rankine's and Fahrenheit's scale, 5/9 K; of all that is no level it is the unit itself.
func (u Unit) Difference() Unit {
	if !u.Dim.Level {
		return u
	}
	if u.Factor == 1 {
		return Unit{Text: "K", Dim: Temperature, Factor: 1}
	}
	return Unit{Text: "degR", Dim: Temperature, Factor: u.Factor}
}

// Same tells whether numbers in both units mean the same.
func (u Unit) Same(v Unit) bool { return u.Dim == v.Dim && u.Factor == v.Factor && u.Zero == v.Zero }

// Angle tells whether the unit is one of angles, which are plain numbers (SI brochure, 9th ed., table 4: 1 rad is 1 m/m) that nobody
// writes as percent.
func (u Unit) Angle() bool { return u.Text == "deg" || u.Text == "°" || u.Text == "rad" }

// One is the unit of a plain number.
var One = Unit{Text: "1", Factor: 1}

// symbols are the units known by name. Factors are exact by definition: inch, foot, pound and ounce by the international
// yard and pound agreement (1959), litre, tonne, minute, hour and day by the SI brochure (9th ed., table 8), bar by its
// 8th ed. (table 8; the 9th no longer lists it), psi from pound, inch and standard gravity. Ampere, volt, ohm, radian, degree of arc and
// degree Celsius are those of the SI brochure (9th ed., tables 2, 4 and 8), degree Fahrenheit and a difference in degree Rankine
// those of NIST SP 811 (2008, appendix B.8). CO2e is
// the mass of carbon dioxide of the same global warming potential (IPCC, glossary of the sixth assessment report, 2021).
var symbols = map[string]Unit{
	"1": {Factor: 1}, "pc": {Factor: 1}, "pcs": {Factor: 1}, "pieces": {Factor: 1}, "cycles": {Factor: 1},
	"%": {Factor: 0.01}, "‰": {Factor: 0.001},

	"m": {Dim: Length, Factor: 1}, "mm": {Dim: Length, Factor: 1e-3}, "cm": {Dim: Length, Factor: 1e-2},
	"dm": {Dim: Length, Factor: 0.1}, "km": {Dim: Length, Factor: 1e3}, "um": {Dim: Length, Factor: 1e-6},
	"µm": {Dim: Length, Factor: 1e-6}, "in": {Dim: Length, Factor: 0.0254}, "ft": {Dim: Length, Factor: 0.3048},
	"l": {Dim: Dim{Length: 3}, Factor: 1e-3}, "L": {Dim: Dim{Length: 3}, Factor: 1e-3},

	"kg": {Dim: Mass, Factor: 1}, "g": {Dim: Mass, Factor: 1e-3}, "mg": {Dim: Mass, Factor: 1e-6},
	"t": {Dim: Mass, Factor: 1e3}, "lb": {Dim: Mass, Factor: 0.45359237}, "oz": {Dim: Mass, Factor: 0.45359237 / 16},

	"s": {Dim: Time, Factor: 1}, "ms": {Dim: Time, Factor: 1e-3}, "min": {Dim: Time, Factor: 60},
	"h": {Dim: Time, Factor: 3600}, "d": {Dim: Time, Factor: 86400}, "wk": {Dim: Time, Factor: 7 * 86400},
	"yr": {Dim: Year, Factor: 1}, "a": {Dim: Year, Factor: 1}, "year": {Dim: Year, Factor: 1},
	"years": {Dim: Year, Factor: 1}, "month": {Dim: Year, Factor: 1.0 / 12}, "months": {Dim: Year, Factor: 1.0 / 12},

	"N": {Dim: force, Factor: 1}, "kN": {Dim: force, Factor: 1e3}, "MN": {Dim: force, Factor: 1e6},
	"Pa": {Dim: pressure, Factor: 1}, "kPa": {Dim: pressure, Factor: 1e3}, "MPa": {Dim: pressure, Factor: 1e6},
	"GPa": {Dim: pressure, Factor: 1e9}, "bar": {Dim: pressure, Factor: 1e5},
	"psi": {Dim: pressure, Factor: 0.45359237 * 9.80665 / (0.0254 * 0.0254)},
	"J":   {Dim: energy, Factor: 1}, "kJ": {Dim: energy, Factor: 1e3}, "MJ": {Dim: energy, Factor: 1e6},
	"Wh": {Dim: energy, Factor: 3600}, "kWh": {Dim: energy, Factor: 3.6e6}, "MWh": {Dim: energy, Factor: 3.6e9},
	"W": {Dim: powerDim, Factor: 1}, "kW": {Dim: powerDim, Factor: 1e3}, "MW": {Dim: powerDim, Factor: 1e6},
	"VA": {Dim: powerDim, Factor: 1}, "kVA": {Dim: powerDim, Factor: 1e3},

	"K": {Dim: Temperature, Factor: 1}, "degC": {Dim: Level, Factor: 1}, "°C": {Dim: Level, Factor: 1},
	"degF": {Dim: Level, Factor: 5.0 / 9, Zero: 32}, "°F": {Dim: Level, Factor: 5.0 / 9, Zero: 32},

	"degR": {Dim: Temperature, Factor: 5.0 / 9}, "°R": {Dim: Temperature, Factor: 5.0 / 9},

	"A": {Dim: Current, Factor: 1}, "mA": {Dim: Current, Factor: 1e-3}, "kA": {Dim: Current, Factor: 1e3},
	"V": {Dim: voltage, Factor: 1}, "mV": {Dim: voltage, Factor: 1e-3}, "kV": {Dim: voltage, Factor: 1e3},
	"ohm": {Dim: resistance, Factor: 1}, "Ω": {Dim: resistance, Factor: 1}, "mohm": {Dim: resistance, Factor: 1e-3},
	"mΩ": {Dim: resistance, Factor: 1e-3}, "uohm": {Dim: resistance, Factor: 1e-6}, "µΩ": {Dim: resistance, Factor: 1e-6},

	"rad": {Factor: 1}, "deg": {Factor: math.Pi / 180}, "°": {Factor: math.Pi / 180},

	"kgCO2e": {Dim: CO2e, Factor: 1}, "gCO2e": {Dim: CO2e, Factor: 1e-3}, "tCO2e": {Dim: CO2e, Factor: 1e3},
}

var (
	force    = Dim{Length: 1, Mass: 1, Time: -2}
	pressure = Dim{Length: -1, Mass: 1, Time: -2}
	energy   = Dim{Length: 2, Mass: 1, Time: -2}
	powerDim = Dim{Length: 2, Mass: 1, Time: -3}

	voltage    = Dim{Length: 2, Mass: 1, Time: -3, Current: -1}
	resistance = Dim{Length: 2, Mass: 1, Time: -3, Current: -2}
)

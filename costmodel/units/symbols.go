package units

// A Unit is what a number as written is multiplied by to become coherent, with its dimension and its text.
type Unit struct {
	Text   string  // as written: "EUR/kg", "%/yr"; "" for a plain number
	Dim    Dim     // what it measures
	Factor float64 // coherent value of 1 of it
}

// One is the unit of a plain number.
var One = Unit{Text: "1", Factor: 1}

// symbols are the units known by name. Factors are exact by definition: inch, foot, pound and ounce by the international
// yard and pound agreement (1959), litre, tonne, minute, hour and day by the SI brochure (9th ed., table 8), bar by its
// 8th ed. (table 8; the 9th no longer lists it), psi from pound, inch and standard gravity.
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
	"h": {Dim: Time, Factor: 3600}, "d": {Dim: Time, Factor: 86400},
	"yr": {Dim: Year, Factor: 1}, "a": {Dim: Year, Factor: 1}, "year": {Dim: Year, Factor: 1},
	"years": {Dim: Year, Factor: 1}, "month": {Dim: Year, Factor: 1.0 / 12}, "months": {Dim: Year, Factor: 1.0 / 12},

	"N": {Dim: force, Factor: 1}, "kN": {Dim: force, Factor: 1e3}, "MN": {Dim: force, Factor: 1e6},
	"Pa": {Dim: pressure, Factor: 1}, "kPa": {Dim: pressure, Factor: 1e3}, "MPa": {Dim: pressure, Factor: 1e6},
	"GPa": {Dim: pressure, Factor: 1e9}, "bar": {Dim: pressure, Factor: 1e5},
	"psi": {Dim: pressure, Factor: 0.45359237 * 9.80665 / (0.0254 * 0.0254)},
	"J":   {Dim: energy, Factor: 1}, "kJ": {Dim: energy, Factor: 1e3}, "MJ": {Dim: energy, Factor: 1e6},
	"Wh": {Dim: energy, Factor: 3600}, "kWh": {Dim: energy, Factor: 3.6e6}, "MWh": {Dim: energy, Factor: 3.6e9},
	"W": {Dim: powerDim, Factor: 1}, "kW": {Dim: powerDim, Factor: 1e3}, "MW": {Dim: powerDim, Factor: 1e6},
}

var (
	force    = Dim{Length: 1, Mass: 1, Time: -2}
	pressure = Dim{Length: -1, Mass: 1, Time: -2}
	energy   = Dim{Length: 2, Mass: 1, Time: -2}
	powerDim = Dim{Length: 2, Mass: 1, Time: -3}
)

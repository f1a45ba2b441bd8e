package formula

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/units"
)

// WholeTolerance is taken off before counting whole things: ceil(v) is the smallest whole number not below v - 1e-9, in
// the engine and in the live formula alike, so that a last binary digit never buys a second press.
const WholeTolerance = 1e-9

// A Function is one row of the table of functions. Help, manual and tests are made from it.
type Function struct {
	Name     string
	Args     string // names of the arguments, for help
	Min, Max int    // number of arguments (a table name not counted)
	Angle    bool   // the argument is an angle, so that a number without a unit is no argument
	Table    bool   // the first argument names a curve of the sheet Tables
	Help     string // one line
	Example  string // an expression of numbers only, but of a curve, and
	Result   float64
	// Dim returns the dimension of the result, or an error text.
	Dim func(args []units.Dim) (units.Dim, string)
	// Eval computes it from coherent values; nil for interpolate, which needs its curve.
	Eval func(a []float64) float64
	// Sheet is the spreadsheet form, {1} and {2} standing for the arguments, * for all of them with commas.
	Sheet string
}

// Usage says how the function is called.
func (f *Function) Usage() string { return fmt.Sprintf("write %s(%s)", f.Name, f.Args) }

// Functions is the table of all functions, in the order in which help lists them.
var Functions = []*Function{
	{Name: "min", Args: "a, b, ...", Min: 2, Max: 20, Help: "the smallest of its arguments", Example: "min(3, 2)", Result: 2,
		Dim: allSame, Eval: func(a []float64) float64 { return fold(a, math.Min) }, Sheet: "MIN(*)"},
	{Name: "max", Args: "a, b, ...", Min: 2, Max: 20, Help: "the largest of its arguments", Example: "max(3, 2)", Result: 3,
		Dim: allSame, Eval: func(a []float64) float64 { return fold(a, math.Max) }, Sheet: "MAX(*)"},
	{Name: "ceil", Args: "a", Min: 1, Max: 1, Help: "the next whole number up, of a number or a number per year; a billionth is taken off first",
		Example: "ceil(2.1)", Result: 3,
		Dim: countOnly, Eval: func(a []float64) float64 { return Ceil(a[0]) }, Sheet: "-INT(1E-9-({1}))"},
	{Name: "floor", Args: "a", Min: 1, Max: 1, Help: "the next whole number down, of a number or a number per year; a billionth is added first",
		Example: "floor(2.9)", Result: 2,
		Dim: countOnly, Eval: func(a []float64) float64 { return Floor(a[0]) }, Sheet: "INT(1E-9+({1}))"},
	{Name: "round", Args: "a", Min: 1, Max: 1, Help: "the nearest whole number, halves away from zero", Example: "round(2.5)", Result: 3,
		Dim: countOnly, Eval: func(a []float64) float64 { return math.Round(a[0]) }, Sheet: "ROUND({1},0)"},
	{Name: "abs", Args: "a", Min: 1, Max: 1, Help: "the value without its sign", Example: "abs(-2)", Result: 2,
		Dim: allSame, Eval: func(a []float64) float64 { return math.Abs(a[0]) }, Sheet: "ABS({1})"},
	{Name: "sqrt", Args: "a", Min: 1, Max: 1, Help: "the square root", Example: "sqrt(9)", Result: 3,
		Dim: rootOf, Eval: func(a []float64) float64 { return math.Sqrt(a[0]) }, Sheet: "SQRT({1})"},
	{Name: "power", Args: "a, b", Min: 2, Max: 2,
		Help: "a to the power b; of a quantity with a unit, b written out and the unit must come out whole", Example: "power(2, 3)",
		Result: 8, Dim: plainOnly, Eval: func(a []float64) float64 { return math.Pow(a[0], a[1]) }, Sheet: "({1})^({2})"},
	{Name: "exp", Args: "a", Min: 1, Max: 1, Help: "e to the power of a plain number", Example: "exp(0)", Result: 1,
		Dim: plainOnly, Eval: func(a []float64) float64 { return math.Exp(a[0]) }, Sheet: "EXP({1})"},
	{Name: "ln", Args: "a", Min: 1, Max: 1, Help: "the natural logarithm of a plain number", Example: "ln(1)", Result: 0,
		Dim: plainOnly, Eval: func(a []float64) float64 { return math.Log(a[0]) }, Sheet: "LN({1})"},
	{Name: "sin", Args: "angle", Min: 1, Max: 1, Angle: true, Help: "the sine of an angle; a computed plain number is in radians",
		Example: `sin("30 deg")`, Result: 0.5, Dim: angleOnly, Eval: func(a []float64) float64 { return math.Sin(a[0]) }, Sheet: "SIN({1})"},
	{Name: "cos", Args: "angle", Min: 1, Max: 1, Angle: true, Help: "the cosine of an angle; a computed plain number is in radians", Example: `cos("60 deg")`,
		Result: 0.5, Dim: angleOnly, Eval: func(a []float64) float64 { return math.Cos(a[0]) }, Sheet: "COS({1})"},
	{Name: "tan", Args: "angle", Min: 1, Max: 1, Angle: true, Help: "the tangent of an angle; a computed plain number is in radians", Example: `tan("45 deg")`,
		Result: 1, Dim: angleOnly, Eval: func(a []float64) float64 { return math.Tan(a[0]) }, Sheet: "TAN({1})"},
	{Name: "asin", Args: "a", Min: 1, Max: 1, Help: "the angle from -90 to 90 deg that has the sine a", Example: `asin(0.5) / "1 deg"`,
		Result: 30, Dim: plainOnly, Eval: func(a []float64) float64 { return math.Asin(a[0]) }, Sheet: "ASIN({1})"},
	{Name: "acos", Args: "a", Min: 1, Max: 1, Help: "the angle from 0 to 180 deg that has the cosine a", Example: `acos(0.5) / "1 deg"`,
		Result: 60, Dim: plainOnly, Eval: func(a []float64) float64 { return math.Acos(a[0]) }, Sheet: "ACOS({1})"},
	{Name: "atan", Args: "a", Min: 1, Max: 1, Help: "the angle from -90 to 90 deg that has the tangent a", Example: `atan(1) / "1 deg"`,
		Result: 45, Dim: plainOnly, Eval: func(a []float64) float64 { return math.Atan(a[0]) }, Sheet: "ATAN({1})"},
	{Name: "capital_recovery", Args: "rate, years", Min: 2, Max: 2,
		Help:    "the yearly share that repays 1 with interest over the years; 1/years without interest",
		Example: `capital_recovery("10 %/yr", "10 yr")`, Result: 0.16274539488251152,
		Dim: capitalDim, Eval: func(a []float64) float64 { return CapitalRecovery(a[0], a[1]) }, Sheet: "-PMT({1},{2},1)"},
	{Name: "present_worth", Args: "rate, years", Min: 2, Max: 2, Help: "the present worth of 1 per year over the years, the inverse of capital_recovery",
		Example: `present_worth("10 %/yr", "10 yr")`, Result: 6.144567105704685,
		Dim: presentDim, Eval: func(a []float64) float64 { return 1 / CapitalRecovery(a[0], a[1]) }, Sheet: "-PV({1},{2},1)"},
	{Name: "learning", Args: "units, rate", Min: 2, Max: 2,
		Help:    "units^(ln rate/ln 2): the factor at the given unit of a learning curve, unit form (Crawford)",
		Example: "learning(4, 0.8)", Result: 0.64,
		Dim: plainOnly, Eval: func(a []float64) float64 { return math.Pow(a[0], math.Log(a[1])/math.Ln2) }, Sheet: "({1})^(LN({2})/LN(2))"},
	{Name: "interpolate", Args: "curve, x", Min: 1, Max: 1, Table: true,
		Help:    "the value of a curve of the sheet Tables at x, straight between points, level beyond the ends",
		Example: "interpolate(example_flow, 1.5 * gauge)"},
}

// FunctionByName finds a function of the table, or nil.
func FunctionByName(name string) *Function {
	for _, f := range Functions {
		if f.Name == name {
			return f
		}
	}
	return nil
}

func suggestFunction(name string) string {
	names := []string{"sum"}
	for _, f := range Functions {
		names = append(names, f.Name)
	}
	for _, n := range names {
		if strings.EqualFold(n, name) {
			return "did you mean " + n + "?"
		}
	}
	if near := Nearest(strings.ToLower(name), names); near != "" {
		return "did you mean " + near + "?"
	}
	return "the functions are " + strings.Join(names, ", ")
}

func fold(a []float64, f func(x, y float64) float64) float64 {
	v := a[0]
	for _, x := range a[1:] {
		v = f(v, x)
	}
	return v
}

// Ceil is the ceil of the language: a billionth is taken off first.
func Ceil(v float64) float64 { return math.Ceil(v - WholeTolerance) }

// Floor is the floor of the language: a billionth is added first.
func Floor(v float64) float64 { return math.Floor(v + WholeTolerance) }

// CapitalRecovery returns i(1+i)^n/((1+i)^n-1), 1/n at i = 0, by expm1 and log1p so that small rates keep their digits.
// Source: standard discrete compounding (equations.md 8; e.g. Blank & Tarquin, Engineering Economy, app. A).
func CapitalRecovery(i, n float64) float64 {
	if i == 0 {
		return 1 / n
	}
	return i / -math.Expm1(-n*math.Log1p(i))
}

// SameNumber is the == of the language: equal to 48 binary digits, which is how spreadsheet programs compare.
func SameNumber(a, b float64) bool {
	return a == b || math.Abs(a-b) < math.Min(math.Abs(a), math.Abs(b))*0x1p-48
}

func allSame(args []units.Dim) (units.Dim, string) {
	for _, d := range args[1:] {
		if d != args[0] {
			return units.None, fmt.Sprintf("its arguments differ: %s and %s", args[0].Describe(), d.Describe())
		}
	}
	return args[0], ""
}

func countOnly(args []units.Dim) (units.Dim, string) {
	if args[0] != units.None && args[0] != units.PerYear {
		return units.None, fmt.Sprintf("it counts whole things, but its argument is %s", args[0].Describe())
	}
	return args[0], ""
}

func plainOnly(args []units.Dim) (units.Dim, string) {
	for _, d := range args {
		if d != units.None {
			return units.None, fmt.Sprintf("it takes plain numbers, but an argument is %s", d.Describe())
		}
	}
	return units.None, ""
}

func angleOnly(args []units.Dim) (units.Dim, string) {
	if args[0] != units.None {
		return units.None, fmt.Sprintf("it takes an angle, but its argument is %s", args[0].Describe())
	}
	return units.None, ""
}

func rootOf(args []units.Dim) (units.Dim, string) {
	d, ok := args[0].Sqrt()
	if !ok {
		return d, fmt.Sprintf("the square root of %s has no unit", args[0].Describe())
	}
	return d, ""
}

func capitalDim(args []units.Dim) (units.Dim, string) {
	if args[0] != units.PerYear || args[1] != units.Year {
		return units.None, fmt.Sprintf("it takes a rate per year and years, not %s and %s", args[0].Describe(), args[1].Describe())
	}
	return units.PerYear, ""
}

func presentDim(args []units.Dim) (units.Dim, string) {
	_, bad := capitalDim(args)
	return units.Year, bad
}

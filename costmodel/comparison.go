package costmodel

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A ComparisonCase is a way in which two scenarios may differ: the first of a list whose condition holds. It has a name, or a
// sentence with {quantity} where a figure stands, without its sign.
type ComparisonCase struct {
	When, Name, Say string
	place           table.Place

	when *formula.Expr
}

// Condition is the checked condition of a case of a Comparison.
func (k *ComparisonCase) Condition() *formula.Expr { return k.when }

func readCases(file string, nodes []yaml.Node) ([]ComparisonCase, error) {
	var out []ComparisonCase
	for i := range nodes {
		c := ComparisonCase{place: table.Place{File: file, Row: nodes[i].Line}}
		if err := nodes[i].Decode(&c); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", file, nodes[i].Line, err)
		}
		out = append(out, c)
	}
	return out, nil
}

// A Comparison is the equations that hold one scenario against another, of templates/equations: the one place of what mass
// saved costs, of what counts as the same cost or mass, and of parity. They see nothing but each other and their inputs.
type Comparison struct {
	Caution string // what its figures are not for; "" for none

	sentences []ComparisonCase   // with a sentence
	Verdict   [][]ComparisonCase // with names, one of each list
	items     []compared         // an item sees those before it
	index     map[string]int
}

type compared struct {
	item Item
	unit units.Unit
	expr *formula.Expr // nil for an input
}

// comparisonScope is the scope of a comparison's file; it has no rows.
const comparisonScope = "comparison"

// ComparedName are the names that Go takes from a comparison; one that is gone is an error when the library is loaded.
type ComparedName string

// The inputs of a comparison, then what it says: numbers and conditions.
const (
	BaseCost  ComparedName = "base_cost" // model currency
	BaseMass  ComparedName = "base_mass" // kg
	OtherCost ComparedName = "cost"      // model currency
	OtherMass ComparedName = "mass"      // kg
	MassValue ComparedName = "allowable_cost_of_mass_saving"

	CostChange      ComparedName = "cost_change"
	MassSaved       ComparedName = "mass_saved"
	CostOfMassSaved ComparedName = "cost_of_mass_saved" // a number only where MassHasPrice holds
	MassHasPrice    ComparedName = "mass_has_price"
	sameCost        ComparedName = "same_cost"
	ParityMargin    ComparedName = "net_benefit_of_mass_saving"
	ParityHolds     ComparedName = "parity"
)

// comparedNames are the units and names that Go relies on, a condition's unit being flag.
var comparedNames = []struct {
	unit  string
	names []ComparedName
}{
	{"currency", []ComparedName{BaseCost, OtherCost, CostChange, ParityMargin}},
	{"kg", []ComparedName{BaseMass, OtherMass, MassSaved}},
	{"currency/kg", []ComparedName{MassValue, CostOfMassSaved}},
	{"flag", []ComparedName{MassHasPrice, sameCost, ParityHolds}},
}

// newComparison checks the equations of a comparison's file against a case's currency.
func newComparison(t *Template, sys *units.System) (*Comparison, error) {
	if t == nil {
		return nil, errors.New("equations: no file has the scope " + comparisonScope)
	}
	c := &Comparison{index: map[string]int{}}
	err := c.read(t.Items, sys)
	if err != nil {
		return nil, err
	}
	if c.sentences, err = c.cases(t.File, t.cases, sys); err != nil {
		return nil, err
	}
	for _, part := range t.Verdict {
		named, err := c.cases(t.File, part, sys)
		if err != nil {
			return nil, err
		}
		c.Verdict = append(c.Verdict, named)
	}
	return c, c.complete(t.File, sys)
}

// read checks the equations of items, each of which sees those before it.
func (c *Comparison) read(items []Item, sys *units.System) error {
	for _, it := range items {
		q := compared{item: it, unit: units.One}
		var err error
		if it.Unit != "flag" {
			q.unit, err = sys.Parse(it.Unit)
		}
		if err == nil && !it.Input {
			want := formula.Type{Flag: it.Unit == "flag", Unit: q.unit}
			if it.Statistic == CountStatistic { // of numbers of any kind
				want.Unit = c.unitOf(it.Is)
			}
			q.expr, err = c.equation(it.Is, want, sys)
		}
		if err != nil {
			return fmt.Errorf("%s:%d: %s: %w", it.place.File, it.place.Row, it.Name, err)
		}
		c.index[it.Name] = len(c.items)
		c.items = append(c.items, q)
	}
	return nil
}

// unitOf is the unit of an item read so far, one where there is none of the name.
func (c *Comparison) unitOf(name string) units.Unit {
	if i, ok := c.index[name]; ok {
		return c.items[i].unit
	}
	return units.One
}

// cases checks the conditions and sentences of a list.
func (c *Comparison) cases(file string, list []ComparisonCase, sys *units.System) ([]ComparisonCase, error) {
	var out []ComparisonCase
	for _, k := range list {
		var err error
		if k.when, err = c.equation(k.When, formula.Type{Flag: true}, sys); err == nil {
			_, err = c.saying(k.Say, nil)
		}
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", k.place.File, k.place.Row, err)
		}
		out = append(out, k)
	}
	if n := len(list); n == 0 || list[n-1].When != "yes" {
		return nil, fmt.Errorf("%s: the last case of a list is the rest, when: yes", file)
	}
	return out, nil
}

func (c *Comparison) equation(text string, want formula.Type, sys *units.System) (*formula.Expr, error) {
	expr, err := formula.Parse(text, sys)
	if err != nil {
		return nil, err
	}
	return expr, formula.Check(expr, comparisonEnv{c}, formula.Rules{Want: want})
}

// complete looks up every name that Go asks for.
func (c *Comparison) complete(file string, sys *units.System) error {
	for _, g := range comparedNames {
		for _, name := range g.names {
			i, ok := c.index[string(name)]
			if !ok {
				return fmt.Errorf("%s: no quantity %s, which the program asks for by name", file, name)
			}
			it := c.items[i].item
			if g.unit == "flag" || it.Unit == "flag" {
				if g.unit != it.Unit {
					return fmt.Errorf("%s:%d: %s is [%s], but the program takes it for [%s]", file, it.place.Row, name, it.Unit, g.unit)
				}
				continue
			}
			if want, err := sys.Parse(g.unit); err != nil || want.Dim != c.items[i].unit.Dim || want.Factor != c.items[i].unit.Factor {
				return fmt.Errorf("%s:%d: %s is [%s], but the program takes it for [%s]", file, it.place.Row, name, it.Unit, g.unit)
			}
		}
	}
	return nil
}

// comparisonEnv knows the items read so far.
type comparisonEnv struct{ of *Comparison }

func (e comparisonEnv) TypeOf(path string, _ bool) (formula.Type, error) {
	if k, ok := constants[path]; ok {
		return formula.Type{Flag: k.flag, Unit: units.One, Bare: !k.flag}, nil
	}
	i, ok := e.of.index[path]
	if !ok {
		return formula.Type{}, fmt.Errorf("a comparison has no %s above this line", path)
	}
	q := e.of.items[i]
	return formula.Type{Flag: q.item.Unit == "flag", Unit: q.unit}, nil
}

func (comparisonEnv) CurveUnits(string) (units.Unit, units.Unit, error) {
	return units.One, units.One, errors.New("a comparison sees no curves")
}

// Definitions lists the quantities that have an equation, in their order.
func (c *Comparison) Definitions() []*Definition {
	var out []*Definition
	for _, q := range c.items {
		if q.expr != nil {
			out = append(out, &Definition{Item: q.item, Unit: q.unit})
		}
	}
	return out
}

// Equation returns the checked equation of a quantity, nil for an input.
func (c *Comparison) Equation(name string) *formula.Expr { return c.items[c.index[name]].expr }

// Compared is a comparison's quantities for given inputs, in coherent units.
type Compared struct {
	of     *Comparison
	values []float64
}

// Of evaluates a comparison. An input that is not given is 0.
func (c *Comparison) Of(inputs map[ComparedName]float64) Compared {
	v := Compared{of: c, values: make([]float64, len(c.items))}
	for i, q := range c.items {
		if q.expr == nil {
			v.values[i] = inputs[ComparedName(q.item.Name)]
			continue
		}
		v.values[i] = v.eval(q.expr)
	}
	return v
}

// first is the case of a list that holds.
func (v Compared) first(list []ComparisonCase) *ComparisonCase {
	for n := range list {
		if v.eval(list[n].when) != 0 {
			return &list[n]
		}
	}
	panic("no case of the comparison holds") // the last of a list always does
}

// Verdict names the case: lighter and more expensive.
func (v Compared) Verdict() string {
	var out []string
	for _, part := range v.of.Verdict {
		out = append(out, v.first(part).Name)
	}
	return strings.Join(out, VerdictJoint)
}

// VerdictJoint stands between the names of a verdict.
const VerdictJoint = " and "

func (v Compared) eval(e *formula.Expr) float64 {
	values := make([]float64, len(e.Names))
	for i, n := range e.Names {
		if k, ok := constants[n.Path]; ok {
			values[i] = k.value
			continue
		}
		values[i] = v.values[v.of.index[n.Path]]
	}
	return formula.Eval(e.Root, values, nil)
}

// Number returns a quantity in coherent units.
func (v Compared) Number(name ComparedName) float64 { return v.values[v.of.index[string(name)]] }

// Holds tells whether a condition holds.
func (v Compared) Holds(name ComparedName) bool { return v.Number(name) != 0 }

// Words says the case with its figures: money with the decimals and in the currency given.
func (v Compared) Words(digits int, currency string) string {
	text, err := v.of.saying(v.first(v.of.sentences).Say, func(i int) string {
		q, x := v.of.items[i], math.Abs(v.values[i])
		switch x = q.unit.Shown(x); {
		case q.item.Unit == "currency":
			return fmt.Sprintf("%.*f %s", digits, x, currency)
		case q.item.Unit == "currency/kg":
			return fmt.Sprintf("%.2f %s", x, currency)
		}
		return fmt.Sprintf("%.3f %s", x, q.item.Unit)
	})
	if err != nil {
		panic(err) // looked at when the library was loaded
	}
	return text
}

// saying puts figures in place of {names}; show may be nil to look at the names alone.
func (c *Comparison) saying(text string, show func(i int) string) (string, error) {
	var out strings.Builder
	for {
		before, rest, more := strings.Cut(text, "{")
		out.WriteString(before)
		if !more {
			return out.String(), nil
		}
		name, after, closed := strings.Cut(rest, "}")
		i, ok := c.index[name]
		if !closed || !ok || !slices.Contains([]string{"currency", "kg", "currency/kg"}, c.items[i].item.Unit) {
			return "", fmt.Errorf("{%s} is no money, mass or money a mass of the comparison", name)
		}
		if show != nil {
			out.WriteString(show(i))
		}
		text = after
	}
}

// SameCost tells whether two costs a piece, in model currency, count as one: by the rule of the comparison.
func (c *Comparison) SameCost(a, b float64) bool {
	return c.Of(map[ComparedName]float64{BaseCost: a, OtherCost: b}).Holds(sameCost)
}

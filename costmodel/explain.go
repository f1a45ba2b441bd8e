package costmodel

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// An Explanation is a number with where it comes from: its equation in words and in numbers, and the explanations of
// what went in, down to input cells.
type Explanation struct {
	Quantity string // its name
	Row      string // "step A01/20"
	Value    float64
	Unit     string
	Choice   string // of a choice, instead of Value
	From     string // equation, input, default, structure, scenario, volume
	Words    string // the equation
	Numbers  string // the same with numbers, the branch that was taken
	Note     string
	Source   string
	Place    table.Place // of an input
	Text     string      // what an input cell holds
	Provided []string
	Parts    []*Explanation
	Again    bool // explained above; its parts are left out

	Machine string // of an operation that was asked for: which machine was chosen for it, and why; "" where one is given
}

// Explain explains a quantity of a row of a detail.
func (d *Detail) Explain(e plan.Entity, quantity int32) *Explanation {
	out := (&explainer{d: d, seen: map[plan.Cell]bool{}}).cell(e, quantity)
	if c := d.Plan.Scenario.ChoiceOf(d.Plan.RowRecord(e)); c != nil {
		out.Machine = c.Says(d.Plan.Model.Schema.Units.ModelCurrency())
	}
	return out
}

type explainer struct {
	d    *Detail
	seen map[plan.Cell]bool
}

func (x *explainer) cell(e plan.Entity, n int32) *Explanation {
	p := x.d.Plan
	q := p.graph.rows[e].scope.Quantities[n]
	out := &Explanation{Quantity: q.Name, Row: p.RowLabel(e), Unit: p.Model.ShownUnit(q.Unit), Value: q.Unit.Shown(x.d.Of(e, n))}
	if len(q.Options) > 0 {
		out.Choice, out.Unit = optionOf(q, x.d.Of(e, n)), ""
	}
	if q.Flag {
		out.Choice, out.Unit = "no", ""
		if x.d.Of(e, n) != 0 {
			out.Choice = "yes"
		}
	}
	o := p.Origin(e, n)
	switch o.Kind {
	case FromStructure:
		out.From = "structure"
		return out
	case FromCell:
		out.From = "input"
		x.input(out, p.RowRecord(e), o.Input)
	case FromChange:
		out.From = "scenario"
		x.input(out, p.RowRecord(e), o.Change)
	default:
		out.From = "equation"
		if o.Definition != nil {
			out.Note, out.Source = o.Definition.Item.Note, o.Definition.Item.Source
			if o.Definition.Item.Input {
				out.From = "default"
			}
		}
	}
	cell := p.graph.rows[e].first + n
	if x.seen[cell] {
		out.Again = o.Active.Kind == plan.Computed
		return out
	}
	x.seen[cell] = true
	if o.Active.Kind == plan.Computed {
		x.equation(out, e, o.Active)
	}
	return out
}

// input notes the cell, its content and what is said of it.
func (x *explainer) input(out *Explanation, r *Record, g *Given) {
	out.Place, out.Text = g.Value.Place, g.Value.Text
	if g.Value.Kind == table.Number {
		out.Text = strconv.FormatFloat(g.Value.Number, 'g', -1, 64)
		switch {
		case g.Value.Percent:
			out.Text = strconv.FormatFloat(g.Value.Number*100, 'g', 12, 64) + "%"
		case g.unit.Text != "" && g.unit.Text != "1":
			out.Text += " " + x.d.Plan.Model.ShownUnit(g.unit)
		}
	}
	for _, name := range slices.Concat([]string{"state", "count"}, table.Provenance) {
		if text := cmp.Or(g.provided[name], r.Text(name)); text != "" {
			out.Provided = append(out.Provided, name+": "+text)
		}
	}
}

// equation notes the words, the numbers of the branch taken, and explains every name of them.
func (x *explainer) equation(out *Explanation, e plan.Entity, def plan.Definition) {
	eq := def.Eq
	out.Words = eq.Expr.Text
	if len(eq.Refs) == 0 {
		return
	}
	taken, used := x.taken(e, eq, eq.Expr.Root)
	if out.Choice == "" {
		out.Numbers = formula.Print(taken, func(n *formula.Node) string { return x.number(e, eq, n) })
	}
	done := map[int]bool{}
	for _, n := range used {
		if done[n.Ref] {
			continue
		}
		done[n.Ref] = true
		out.Parts = append(out.Parts, x.parts(e, &eq.Refs[n.Ref])...)
	}
}

// taken replaces conditionals by the branch that was taken, and lists the names that decided or went in.
func (x *explainer) taken(e plan.Entity, eq *plan.Equation, n *formula.Node) (*formula.Node, []*formula.Node) {
	if n.Kind == formula.Cond {
		_, used := x.taken(e, eq, n.Args[0])
		branch := n.Args[2]
		if x.eval(e, eq, n.Args[0]) != 0 {
			branch = n.Args[1]
		}
		out, more := x.taken(e, eq, branch)
		return out, append(used, more...)
	}
	if n.Kind == formula.Name || n.Kind == formula.Sum {
		return n, []*formula.Node{n}
	}
	copied := *n
	copied.Args = make([]*formula.Node, len(n.Args))
	var used []*formula.Node
	for i, a := range n.Args {
		var more []*formula.Node
		copied.Args[i], more = x.taken(e, eq, a)
		used = append(used, more...)
	}
	return &copied, used
}

func (x *explainer) eval(e plan.Entity, eq *plan.Equation, n *formula.Node) float64 {
	values := make([]float64, len(eq.Refs))
	for i := range eq.Refs {
		values[i], _ = x.value(e, &eq.Refs[i])
	}
	return formula.Eval(n, values, x.d.Plan.graph.Curve)
}

// value is the coherent value of a reference; ok is false where it was not computed.
func (x *explainer) value(e plan.Entity, ref *plan.Ref) (float64, bool) {
	p := x.d.Plan
	if ref.Fixed {
		return ref.Constant, true
	}
	if ref.Base {
		return math.NaN(), false
	}
	targets, ok := x.targets(e, ref)
	if !ok {
		return math.NaN(), false
	}
	sum := 0.0
	for _, t := range targets {
		if !p.Compiled(t, ref.Quantity) {
			return math.NaN(), false
		}
		sum += x.d.Of(t, ref.Quantity)
	}
	if ref.Option > 0 {
		if sum == float64(ref.Option-1) {
			return 1, true
		}
		return 0, true
	}
	return sum, true
}

func (x *explainer) targets(e plan.Entity, ref *plan.Ref) ([]plan.Entity, bool) {
	for i, hop := range ref.Hops {
		if ref.Many && i == len(ref.Hops)-1 {
			return x.d.Plan.Members(e, hop), true
		}
		if e = x.d.Plan.Follow(e, hop); e < 0 {
			return nil, false
		}
	}
	return []plan.Entity{e}, true
}

// number writes a name as its value with its unit.
func (x *explainer) number(e plan.Entity, eq *plan.Equation, n *formula.Node) string {
	ref := &eq.Refs[n.Ref]
	v, ok := x.value(e, ref)
	if !ok || ref.Fixed {
		return n.Name
	}
	if ref.Option > 0 {
		if v == 1 {
			return "yes"
		}
		return "no"
	}
	sc := x.d.Plan.graph.rows[e].scope
	if k := len(ref.Hops); k > 0 {
		sc = x.d.Plan.Model.Schema.byName[Relations[ref.Hops[k-1]].To]
	}
	q := sc.Quantities[ref.Quantity]
	unit := unitSuffix(x.d.Plan.Model.ShownUnit(q.Unit))
	if targets, _ := x.targets(e, ref); ref.Many && len(targets) > 1 && len(targets) <= longestSum {
		terms := make([]string, len(targets))
		for i, t := range targets {
			terms[i] = ShownNumber(q.Unit.Shown(x.d.Of(t, ref.Quantity))) + unit
		}
		return "(" + strings.Join(terms, " + ") + ")"
	}
	return ShownNumber(q.Unit.Shown(v)) + unit
}

// longestSum is the number of terms up to which a sum is written out.
const longestSum = 6

func unitSuffix(unit string) string {
	if unit == "1" || unit == "" || unit == "flag" {
		return ""
	}
	return " " + unit
}

// ShownNumber writes a number with seven significant digits and no exponent where that can be read.
func ShownNumber(v float64) string {
	if math.Abs(v) >= 1e6 && math.Abs(v) < 1e15 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	text := strconv.FormatFloat(v, 'g', 7, 64)
	if strings.ContainsAny(text, "eE") && math.Abs(v) < 1e15 && math.Abs(v) >= 1e-6 {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return text
}

func (x *explainer) parts(e plan.Entity, ref *plan.Ref) []*Explanation {
	if ref.Fixed || ref.Base {
		return nil
	}
	targets, ok := x.targets(e, ref)
	if !ok {
		return nil
	}
	var out []*Explanation
	for _, t := range targets {
		if x.d.Plan.Compiled(t, ref.Quantity) {
			out = append(out, x.cell(t, ref.Quantity))
		}
	}
	return out
}

// FindRow finds a row of a scenario by scope and key; a machine is found by its key in the first plant.
func (p *Plan) FindRow(scope, key string) (plan.Entity, error) {
	var keys []string
	for e := range p.graph.rows {
		r := &p.graph.rows[e]
		if r.scope.Name != scope {
			continue
		}
		if r.rec.Key == key {
			return plan.Entity(e), nil
		}
		keys = append(keys, r.rec.Key)
	}
	what := scope
	if scope == "operation" {
		what = "operation"
	}
	if near := formula.Nearest(key, keys); near != "" {
		return 0, fmt.Errorf("scenario %s has no %s %q; did you mean %s?", p.Scenario.Name, what, key, near)
	}
	return 0, fmt.Errorf("scenario %s has no %s %q; it has %s", p.Scenario.Name, what, key, someOf(keys))
}

// mostKeysNamed is how many keys a message lists.
const mostKeysNamed = 6

// someOf lists keys, and says how many more there are.
func someOf(keys []string) string {
	if len(keys) == 0 {
		return "none"
	}
	list := strings.Join(keys[:min(len(keys), mostKeysNamed)], ", ")
	if more := len(keys) - mostKeysNamed; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}

// QuantityNamed finds a quantity of a row's scope by its name or label.
func (p *Plan) QuantityNamed(e plan.Entity, name string) (int32, error) {
	sc := p.graph.rows[e].scope
	n, ok := sc.byHeading(table.Normalise(name))
	if !ok {
		if sc.Quantities != nil {
			var names []string
			for _, q := range sc.Quantities {
				if q.Check == nil {
					names = append(names, q.Name)
				}
			}
			if near := formula.Nearest(table.Normalise(name), names); near != "" {
				return 0, fmt.Errorf("a %s has no quantity %q; did you mean %s?", sc.Name, name, near)
			}
		}
		return 0, fmt.Errorf("a %s has no quantity %q; `piececost processes %s` lists them", sc.Name, name, sc.Name)
	}
	if v := p.graph.rows[e].variant; v != nil {
		if own, ok := v.called[n]; ok {
			n = own
		}
	}
	if !p.Compiled(e, n) {
		return 0, fmt.Errorf("%s of %s is not defined or not needed", name, p.RowLabel(e))
	}
	return n, nil
}

package quote

import (
	"math"
	"slices"

	"piececost/costmodel"
)

// A solver evaluates the should-cost at factors on its assumptions, on one compiled plan.
type solver struct {
	cost   *ShouldCost
	offer  *Offer
	levers []lever
	first  []int // the first input of each lever among those varied
	lanes  *costmodel.Lanes
	names  []string
	volume float64

	material, tooling, process []int // columns of elements
	toolOverhead               float64
	surcharge, extra           float64 // price = (cost + handling) x surcharge + extra
}

// newSolver compiles the should-cost with every assumption as a column; nil where that can't be.
func newSolver(q *costmodel.Quotes, o *Offer) *solver {
	c := o.Model
	s := &solver{cost: c, offer: o}
	s.volume, _ = q.Given(o.Quote.Record, "annual_volume")
	var inputs []costmodel.Input
	for _, l := range c.levers() {
		if !canVary(q, c, l.inputs) {
			continue
		}
		s.first = append(s.first, len(inputs))
		s.levers = append(s.levers, l)
		inputs = append(inputs, l.inputs...)
	}
	p, _ := q.Model.Compile(c.made, costmodel.CompileOptions{Vary: inputs})
	if p == nil {
		return nil
	}
	s.names = []string{"piece_cost"}
	for _, e := range q.Model.Schema.Elements {
		s.names = append(s.names, e.PieceName())
		column := len(s.names) - 1
		switch e.Name {
		case "material":
			s.material = append(s.material, column)
		case "tooling":
			s.tooling = append(s.tooling, column)
		case "scrap_credit", "purchased_parts", "overhead", "working_capital":
		default:
			s.process = append(s.process, column)
		}
	}
	lanes, err := p.Lanes(s.names...)
	if err != nil {
		return nil
	}
	s.lanes = lanes
	for i := range lanes.Volumes() {
		lanes.Volumes()[i] = s.volume
	}
	for i := range inputs {
		column := lanes.Input(i)
		for j := range column {
			column[j] = 1
		}
	}
	if c.Tooling != 0 {
		s.toolOverhead = c.ToolOverhead / c.Tooling
	}
	s.surcharge = (1 + c.Detail.CaseValue("sga_share")) * (1 + c.Detail.CaseValue("profit_share"))
	if v, ok := o.Entry.Value("model_delivery"); ok {
		s.extra = v
	}
	return s
}

// canVary tells whether the inputs of an assumption can be columns.
func canVary(q *costmodel.Quotes, c *ShouldCost, inputs []costmodel.Input) bool {
	if len(inputs) == 0 {
		return true
	}
	p, ds := q.Model.Compile(c.made, costmodel.CompileOptions{Vary: inputs})
	return p != nil && !ds.HasErrors()
}

// atBase evaluates a target with all assumptions as they are.
func (s *solver) atBase(target string) float64 { return s.cols(target, s.lanes.Block(1), 1)[0] }

// A fixed lever has a factor while another is searched; a nil one is none.
type fixed struct {
	lever  int
	factor float64
}

// at evaluates a target at many factors of one lever, side by side, with another fixed or none.
func (s *solver) at(target string, l int, factors []float64, other *fixed) []float64 {
	for i, f := range factors {
		if other != nil {
			s.set(other.lever, i, other.factor)
		}
		s.set(l, i, f)
	}
	out := s.cols(target, s.lanes.Block(len(factors)), len(factors))
	for i := range factors {
		if other != nil {
			s.set(other.lever, i, 1)
		}
		s.set(l, i, 1)
	}
	return out
}

// cols are the values of a target in each lane of a block.
func (s *solver) cols(target string, cols [][]float64, lanes int) []float64 {
	out := make([]float64, lanes)
	for i := range out {
		sum := func(columns []int) (total float64) {
			for _, c := range columns {
				total += cols[c][i]
			}
			return total
		}
		switch target {
		case material:
			out[i] = sum(s.material)
		case process:
			out[i] = sum(s.process)
		default:
			tools := sum(s.tooling)
			out[i] = (cols[0][i]-tools*(1+s.toolOverhead)+s.cost.Detail.CaseValue("material_handling"))*s.surcharge + s.extra
		}
	}
	return out
}

func (s *solver) set(l, lane int, factor float64) {
	if len(s.levers[l].inputs) == 0 {
		s.lanes.Volumes()[lane] = s.volume * factor
		return
	}
	for i := range s.levers[l].inputs {
		s.lanes.Input(s.first[l] + i)[lane] = factor
	}
}

// The factors within which an assumption is searched; a root between two of those that are tried is narrowed to a part in so many, so often.
const lowestFactor, highestFactor, scanned, parts, narrowings = 0.02, 50.0, 120, 64, 10

// solve finds the factor nearest to 1 at which a target is what is wanted, with another fixed or none; NaN where there is none.
func (s *solver) solve(target string, l int, wanted float64, other *fixed) float64 {
	best := math.NaN()
	for _, end := range []float64{lowestFactor, highestFactor} {
		factors := []float64{1}
		for i := 1; i <= scanned; i++ {
			factors = append(factors, math.Exp(math.Log(end)/scanned*float64(i)))
		}
		i, found := turned(s.at(target, l, factors, other), wanted)
		if !found {
			continue
		}
		root := s.narrowed(target, l, wanted, other, factors[i], factors[i+1])
		if math.IsNaN(best) || math.Abs(math.Log(root)) < math.Abs(math.Log(best)) {
			best = root
		}
	}
	return best
}

// turned is the first of the values from which to the next one they come to or pass what is wanted, none of them being no number.
func turned(values []float64, wanted float64) (i int, found bool) {
	for i := range len(values) - 1 {
		a, b := values[i]-wanted, values[i+1]-wanted
		if math.IsNaN(b) {
			return 0, false
		}
		if a == 0 || (a < 0) != (b < 0) {
			return i, true
		}
	}
	return 0, false
}

// narrowed is the root between two factors.
func (s *solver) narrowed(target string, l int, wanted float64, other *fixed, a, b float64) float64 {
	factors := make([]float64, parts+1)
	for range narrowings {
		for i := range factors {
			factors[i] = a + (b-a)*float64(i)/parts
		}
		values := s.at(target, l, factors, other)
		if i := slices.Index(values, wanted); i >= 0 {
			return factors[i]
		}
		i, found := turned(values, wanted)
		if !found {
			break
		}
		a, b = factors[i], factors[i+1]
	}
	return (a + b) / 2
}

// explain says for the price and its elements what each assumption alone would have to be.
func (a *Answer) explain(o *Offer) []Explanation {
	if o.Model == nil || len(o.Model.Detail.Entries("operation")) == 0 {
		return nil
	}
	s := newSolver(a.Quotes, o)
	if s == nil {
		return nil
	}
	shown := s.shownValues(a.Quotes)
	var out []Explanation
	for _, t := range []struct{ target, quoted string }{{price, "after_tools"}, {process, "quoted_process"}, {material, "quoted_material"}} {
		quoted := valueOr(o.Entry, t.quoted)
		if math.IsNaN(quoted) || t.target != price && len(o.Quote.Lines) == 0 {
			continue
		}
		e := Explanation{Target: t.target, Quoted: quoted, Model: s.atBase(t.target)}
		plausible := false
		for l, lever := range s.levers {
			if slices.Contains(lever.on, t.target) {
				x := s.assumption(l, t.target, quoted, shown[l])
				plausible = plausible || x.Verdict == Plausible
				e.Single = append(e.Single, x)
			}
		}
		if !plausible {
			e.Pairs = s.pairs(t.target, quoted)
		}
		out = append(out, e)
	}
	return out
}

// A shownValue is the number that stands for an assumption, with its plausible range.
type shownValue struct {
	base, low, high float64
	unit            string
}

// shownValues are the numbers of the model that the assumptions move.
func (s *solver) shownValues(q *costmodel.Quotes) []shownValue {
	ranges, _ := q.Model.Uncertainty()
	out := make([]shownValue, len(s.levers))
	for l, lever := range s.levers {
		none := shownValue{math.NaN(), math.NaN(), math.NaN(), ""}
		out[l] = none
		if len(lever.inputs) == 0 {
			out[l] = shownValue{s.volume, math.NaN(), math.NaN(), "1/yr"}
			continue
		}
		p, _ := q.Model.Compile(s.cost.made, costmodel.CompileOptions{Vary: []costmodel.Input{lever.shown}})
		if lever.shown.Sheet == "" || p == nil {
			continue
		}
		v := p.VariedAt(s.volume)[0]
		out[l] = shownValue{v.Shown(v.BaseValue), math.NaN(), math.NaN(), q.Model.ShownUnit(v.Unit)}
		if v.HasRange() && !v.Computed {
			out[l].low, out[l].high = v.Shown(v.Low), v.Shown(v.High)
		}
		for _, u := range ranges { // what the user says of it comes first
			if u.Input == lever.shown {
				out[l].low, out[l].high = v.Shown(u.Low), v.Shown(u.High)
			}
		}
	}
	return out
}

func (s *solver) assumption(l int, target string, quoted float64, shown shownValue) Assumption {
	out := Assumption{Name: s.levers[l].name, Factor: s.solve(target, l, quoted, nil), Base: shown.base, Unit: shown.unit, Low: shown.low, High: shown.high,
		lowest: s.levers[l].low, highest: s.levers[l].high}
	out.Needed = out.Base * out.Factor
	switch low, high := out.PlausibleFactors(); {
	case math.IsNaN(out.Factor):
		out.Verdict = NoneFound
	case out.Factor < low || out.Factor > high:
		out.Verdict = Outside
	default:
		out.Verdict = Plausible
	}
	return out
}

// pairs are curves of two assumptions that explain a target together, the first within its plausible factors.
func (s *solver) pairs(target string, quoted float64) (out []Pair) {
	for l, a := range s.levers {
		for k := l + 1; k < len(s.levers); k++ {
			b := s.levers[k]
			if !slices.Contains(a.on, target) || !slices.Contains(b.on, target) || len(out) == mostPairs {
				continue
			}
			p := Pair{First: a.name, Second: b.name}
			within := false
			for i := range pairPoints {
				f := a.low + (a.high-a.low)*float64(i)/(pairPoints-1)
				second := s.solve(target, k, quoted, &fixed{l, f})
				within = within || second >= b.low && second <= b.high
				p.Points = append(p.Points, PairPoint{f, second})
			}
			if within {
				out = append(out, p)
			}
		}
	}
	return out
}

// pairPoints are the points of a curve, mostPairs the curves of a target.
const pairPoints, mostPairs = 5, 6

package quote

import (
	"fmt"
	"math"
	"slices"

	"piececost/costmodel"
)

// A Finding is a rule whose value lies outside its bounds.
type Finding struct {
	Rule      ruleText
	Line      *costmodel.Record // of a rule of lines; nil for one of the quote
	Value     float64           // coherent
	Low, High float64           // coherent; NaN where the rule has none
	Effect    float64           // model currency a piece, quoted less corrected; NaN where no money follows
	AYear     float64           // effect x annual volume asked for
	Assumed   []string
}

// Above tells whether the value lies above the upper bound.
func (f Finding) Above() bool { return f.Value > f.High }

// A NotChecked is a rule that rests on what is not there.
type NotChecked struct {
	Rule  ruleText
	Needs []string // labels of what is missing
}

// An OpenPoint is something that a supplier did not state, and how to ask for it.
type OpenPoint struct {
	Rule string // or the step of the chain that needs it: step 5
	What string // what the rule or step is about
	Ask  string
}

// check holds a quote and its lines against every rule.
func (a *Answer) check(o *Offer) {
	a.openSteps(o)
	unused := a.unused()
	volume, _ := a.Quotes.Given(a.Quotes.Request, "annual_volume")
	for _, r := range a.Quotes.Library.Rules {
		if unused[r.Name] {
			continue
		}
		if r.Scope != "quote" {
			for _, l := range o.Lines {
				if f, found := a.outside(r, l.Entry, l.Record, volume); found {
					o.Findings = append(o.Findings, f)
				}
			}
			continue
		}
		if _, ok := a.boundsOf(r, o.Entry); !ok {
			needs := a.Plan.LackedFor(o.Entry, a.resting(r, o.Entry))
			if len(needs) == 0 {
				needs = []string{"a divisor other than 0"}
			}
			o.NotChecked = append(o.NotChecked, NotChecked{r, needs})
			if r.Open != "" {
				o.OpenPoints = append(o.OpenPoints, OpenPoint{r.Name, r.What, r.Open})
			}
			continue
		}
		if f, found := a.outside(r, o.Entry, nil, volume); found {
			o.Findings = append(o.Findings, f)
		}
	}
	o.Findings = append(o.Findings, a.own(o.Entry, nil)...)
	for _, l := range o.Lines {
		o.Findings = append(o.Findings, a.own(l.Entry, l.Record)...)
	}
	slices.SortStableFunc(o.Findings, func(x, y Finding) int { return compareSize(y.Effect, x.Effect) })
}

// openSteps are the steps of the chain that count 0 since what they need is not there.
func (a *Answer) openSteps(o *Offer) {
	for _, x := range a.Quotes.Library.Open {
		if _, there := o.Entry.Value(x.Lacks); there || x.Where != "" && valueOr(o.Entry, x.WhereName()) != 1 {
			continue
		}
		what := ""
		for _, c := range a.Quotes.Library.Chain {
			if c.Step == x.Step {
				what = c.Label
			}
		}
		o.OpenPoints = append(o.OpenPoints, OpenPoint{fmt.Sprintf("step %d", x.Step), what, x.Ask})
	}
}

// compareSize orders by size; what has no effect in money comes last.
func compareSize(a, b float64) int {
	switch x, y := size(a), size(b); {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

func size(v float64) float64 {
	if math.IsNaN(v) {
		return -1
	}
	return math.Abs(v)
}

// bounded is a rule as it stands for a row.
type bounded struct{ value, low, high float64 }

// boundsOf reads value and bounds of a rule; ok is false where one of them is not there.
func (a *Answer) boundsOf(r ruleText, e costmodel.Entry) (b bounded, ok bool) {
	b = bounded{valueOr(e, r.ValueName()), math.NaN(), math.NaN()}
	if math.IsNaN(b.value) || math.IsInf(b.value, 0) { // not there, or a number by which it is divided is 0
		return b, false
	}
	if r.Low != "" {
		if b.low = valueOr(e, r.LowName()); math.IsNaN(b.low) {
			return b, false
		}
	}
	if r.High != "" {
		if b.high = valueOr(e, r.HighName()); math.IsNaN(b.high) {
			return b, false
		}
	}
	return b, true
}

// resting is the quantity of a rule that is not there.
func (a *Answer) resting(r ruleText, e costmodel.Entry) string {
	for _, name := range []string{r.ValueName(), r.LowName(), r.HighName()} {
		if name == r.LowName() && r.Low == "" || name == r.HighName() && r.High == "" {
			continue
		}
		if _, ok := e.Value(name); !ok {
			return name
		}
	}
	return r.ValueName()
}

// hair is the share of a bound by which a value may lie outside it for the sake of rounding.
const hair = 1e-9

func (a *Answer) outside(r ruleText, e costmodel.Entry, line *costmodel.Record, volume float64) (Finding, bool) {
	b, ok := a.boundsOf(r, e)
	if !ok {
		return Finding{}, false
	}
	below := b.value < b.low-hair*math.Max(math.Abs(b.low), math.Abs(b.value))
	above := b.value > b.high+hair*math.Max(math.Abs(b.high), math.Abs(b.value))
	if !below && !above {
		return Finding{}, false
	}
	f := Finding{Rule: r, Line: line, Value: b.value, Low: b.low, High: b.high, Effect: math.NaN(), AYear: math.NaN()}
	if r.Effect != "" {
		f.Effect = valueOr(e, r.EffectName())
		f.AYear = f.Effect * volume
	}
	f.Assumed = a.assumed(e, r.ValueName())
	return f, true
}

// own are checks of the sheet Processes that do not hold.
func (a *Answer) own(e costmodel.Entry, line *costmodel.Record) (out []Finding) {
	for _, c := range a.Plan.OwnChecksOf(e) {
		r := ruleText{Name: "own", Scope: "quote", What: c.Say, Shows: "own check", Unit: "1", Question: c.Say}
		out = append(out, Finding{Rule: r, Line: line, Value: 0, Low: 1, High: math.NaN(), Effect: math.NaN(), AYear: math.NaN()})
	}
	return out
}

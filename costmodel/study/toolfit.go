package study

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/fit"
	"piececost/costmodel/table"
)

// ToolFitOptions say what is fitted.
type ToolFitOptions struct {
	Kinds        []string // of tool; all of the sheet Past tools where none is given
	Coefficients []string // by name or label; those that are usually fitted where none is given
	Absolute     bool     // make the squares of the absolute errors least, not of the relative ones
	Confidence   float64  // of the intervals; 0 is 0.95
}

// A ToolFit is a kind of tool with its coefficients fitted to the past tools of the kind, or with what stands in the way.
type ToolFit struct {
	Kind    string
	Machine string                  // key of the row of Machines, where its price relation is fitted and not a kind of tool; then Tools are past machines
	Chosen  []costmodel.Coefficient // as they stand now
	LeftOut []costmodel.Coefficient // usually fitted, but 0 in every past tool, so that they keep their value
	Tools   []*costmodel.PastTool
	Fit     *fit.Result // nil where it was refused; its coefficients are those of Chosen, then what the others come to
	Refused []string    // why, each with what to do
}

// Acceptable tells whether every coefficient was found well enough to be taken over.
func (f *ToolFit) Acceptable() bool {
	return f.Fit != nil && !slices.ContainsFunc(f.Fit.Coefficients, func(e fit.Estimate) bool { return e.Unreliable })
}

// restName is what the coefficients that are not fitted come to, in the fit.
const restName = "what the other coefficients come to"

// FitTools fits the coefficients of the build-up of tool prices to the sheet Past tools, kind by kind, none below 0. The error is for
// options that name nothing, or that of ctx.
func FitTools(ctx context.Context, m *costmodel.Model, o ToolFitOptions) ([]*ToolFit, error) {
	kinds := m.ToolKinds()
	if len(kinds) == 0 {
		return nil, fmt.Errorf("the workbook has no past tools; fill the sheet Past tools: a tool a row, with Tool kind, Tool price and its figures")
	}
	if len(o.Kinds) > 0 {
		var err error
		if kinds, err = chosenKinds(kinds, o.Kinds); err != nil {
			return nil, err
		}
	}
	var out []*ToolFit
	for _, kind := range kinds {
		f, err := fitKind(ctx, m, kind, o)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}

func chosenKinds(have, asked []string) (out []string, err error) {
	for _, a := range asked {
		i := slices.IndexFunc(have, func(k string) bool { return table.Normalise(k) == table.Normalise(a) })
		if i < 0 {
			return nil, fmt.Errorf("no past tool is a %q; the kinds of the sheet Past tools are %s", a, strings.Join(have, ", "))
		}
		out = append(out, have[i])
	}
	return out, nil
}

// fitKind fits one kind.
func fitKind(ctx context.Context, m *costmodel.Model, kind string, o ToolFitOptions) (*ToolFit, error) {
	f := &ToolFit{Kind: kind, Tools: m.ToolsOf(kind)}
	if err := f.choose(m.Coefficients(kind), o.Coefficients); err != nil {
		return nil, err
	}
	sums, err := m.ToolSums(kind, f.Chosen)
	if err != nil {
		f.Refused = []string{err.Error()}
		return f, nil
	}
	if len(o.Coefficients) == 0 {
		sums = f.leaveOutUnused(sums)
	}
	return f, f.solve(ctx, f.problem(sums, o))
}

// solve fits, or notes why not.
func (f *ToolFit) solve(ctx context.Context, p fit.Problem) (err error) {
	f.Fit, err = fit.Fit(ctx, p)
	if refused, is := fit.IsRefused(err); is {
		for _, r := range refused {
			f.Refused = append(f.Refused, r.String())
		}
		return nil
	}
	return err
}

// choose takes the coefficients that are asked for, or the usual ones.
func (f *ToolFit) choose(all []costmodel.Coefficient, asked []string) error {
	if len(asked) == 0 {
		for _, c := range all {
			if c.Fitted {
				f.Chosen = append(f.Chosen, c)
			}
		}
		return nil
	}
	for _, a := range asked {
		i := slices.IndexFunc(all, func(c costmodel.Coefficient) bool {
			return table.Normalise(a) == c.Name || table.Normalise(a) == table.Normalise(c.Label)
		})
		if i < 0 {
			var names []string
			for _, c := range all {
				names = append(names, c.Label)
			}
			return fmt.Errorf("%q is no coefficient of a %s that could be fitted; they are %s", a, f.Kind, strings.Join(names, ", "))
		}
		f.Chosen = append(f.Chosen, all[i])
	}
	return nil
}

// leaveOutUnused holds the usual coefficients that no past tool of the kind tells anything of.
func (f *ToolFit) leaveOutUnused(sums []costmodel.ToolSum) []costmodel.ToolSum {
	var keep []int
	var chosen []costmodel.Coefficient
	for i, c := range f.Chosen {
		if slices.ContainsFunc(sums, func(s costmodel.ToolSum) bool { return s.Times[i] != 0 }) {
			keep, chosen = append(keep, i), append(chosen, c)
		} else {
			f.LeftOut = append(f.LeftOut, c)
		}
	}
	f.Chosen = chosen
	for i := range sums {
		var times []float64
		for _, k := range keep {
			times = append(times, sums[i].Times[k])
		}
		sums[i].Times = times
	}
	return sums
}

// problem is the fit of a kind: the chosen coefficients, and the rest of the price held.
func (f *ToolFit) problem(sums []costmodel.ToolSum, o ToolFitOptions) fit.Problem {
	p := fit.Problem{Of: "tool price", Confidence: o.Confidence}
	if o.Absolute {
		p.Weighting = fit.Absolute
	}
	for _, c := range f.Chosen {
		p.Coefficients = append(p.Coefficients, fit.Coefficient{Name: c.Label, NotNegative: true})
	}
	rest := slices.ContainsFunc(sums, func(s costmodel.ToolSum) bool { return s.Rest != 0 })
	if rest {
		p.Coefficients = append(p.Coefficients, fit.Coefficient{Name: restName, Held: true, Value: 1})
	}
	for _, s := range sums {
		x := slices.Clone(s.Times)
		if rest {
			x = append(x, s.Rest)
		}
		p.Rows = append(p.Rows, fit.Row{Label: s.Tool.Name, X: x, Observed: s.Tool.Price})
	}
	return p
}

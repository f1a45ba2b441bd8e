package report

import (
	"piececost/costmodel"
	"piececost/costmodel/formula"
	"piececost/costmodel/units"
	"piececost/scenarios/costing/wire"
)

// LanguageJSON is the language of expressions for programs.
func LanguageJSON() wire.Language {
	out := wire.Language{Answer: wire.Begin[wire.Language]()}
	for _, s := range formula.Writings {
		out.Writings = append(out.Writings, wire.Writing{Example: s.Example, Result: result(s.Result, !s.Names), Help: s.Help})
	}
	for _, f := range formula.Functions {
		out.Functions = append(out.Functions, wire.Function{Name: f.Name, Arguments: f.Args, Least: f.Min + tableArgument(f), Most: f.Max + tableArgument(f),
			Curve: f.Table, Help: f.Help, Example: f.Example, Result: result(f.Result, !f.Table)})
	}
	out.Functions = append(out.Functions, wire.Function{Name: "sum", Arguments: "rows.quantity", Least: 1, Most: 1, Help: sumHelp, Example: sumExample})
	for _, r := range costmodel.Relations {
		out.Relations = append(out.Relations, wire.Relation{Name: r.Name, From: r.From, To: r.To, Many: r.Many, Help: r.Note})
	}
	for _, g := range units.Groups() {
		group := wire.UnitGroup{Measures: g.Measures, Coherent: g.Coherent}
		for _, u := range g.Units {
			group.Units = append(group.Units, wire.Unit{Symbol: u.Text, Factor: u.Factor, Zero: u.Zero})
		}
		out.Units = append(out.Units, group)
	}
	return out
}

// tableArgument is the curve's name, which is not counted among the arguments.
func tableArgument(f *formula.Function) int {
	if f.Table {
		return 1
	}
	return 0
}

func result(v float64, known bool) *float64 {
	if !known {
		return nil
	}
	return &v
}

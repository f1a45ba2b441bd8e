package report

import (
	"piececost/costmodel/fit"
	"piececost/costmodel/study"
	"piececost/scenarios/costing/wire"
)

// JSON is every coefficient and past tool.
func (r *fitReport) JSON() wire.Fit {
	out := wire.Fit{Answer: wire.Begin[wire.Fit](), File: r.file, Currency: r.currency, Kinds: []wire.FitKind{}, Caution: wire.Caution}
	for _, k := range r.kinds {
		out.Kinds = append(out.Kinds, fitKindJSON(k))
	}
	if a := r.accepted; a != nil {
		out.Accepted = &wire.FitAccepted{File: a.File, Kinds: a.Kinds, First: a.First, Last: a.Last, Replaced: a.Replaced}
	}
	return out
}

func fitKindJSON(k *study.ToolFit) wire.FitKind {
	out := wire.FitKind{Kind: k.Kind, Count: len(k.Tools), Refused: append([]string{}, k.Refused...), Coefficients: []wire.FitCoefficient{},
		LeftOut: []string{}, Tools: []wire.FitTool{}, Warnings: []string{}, Acceptable: k.Acceptable()}
	for _, c := range k.LeftOut {
		out.LeftOut = append(out.LeftOut, c.Label)
	}
	for i, c := range k.Chosen {
		f := wire.FitCoefficient{Name: c.Label, Unit: c.Unit, InForce: c.Value, Placeholder: c.Placeholder}
		if k.Fit != nil {
			e := &k.Fit.Coefficients[i]
			f.Value, f.State, f.Unreliable = &e.Value, e.State.String(), e.Unreliable
			if e.State == fit.Found {
				f.Error, f.Low, f.High = &e.Error, &e.Low, &e.High
			}
		}
		out.Coefficients = append(out.Coefficients, f)
	}
	if k.Fit == nil {
		return out
	}
	for i := range k.Fit.Rows {
		row := &k.Fit.Rows[i]
		t := wire.FitTool{Tool: k.Tools[i].Name, Price: row.Observed, Fitted: row.Fitted, Residual: row.Residual, Leverage: row.Leverage, Cook: row.Cook}
		if row.HasLeftOut {
			t.LeftOut = &row.LeftOut
		}
		out.Tools = append(out.Tools, t)
	}
	for _, f := range k.Fit.Warnings {
		out.Warnings = append(out.Warnings, f.String())
	}
	q := k.Fit
	out.Quality = &wire.FitQuality{Weighting: q.Weighting.String(), Confidence: q.Confidence, Freedom: q.Freedom, Deviation: q.ResidualSD,
		LeftOut: q.LeftOutRMS, LeftOutCount: q.LeftOutRows}
	if q.HasR2 {
		out.Quality.R2 = &q.R2
	}
	return out
}

package costing

import (
	"cmp"
	"context"
	"fmt"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/fit"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// ToolFits are coefficients of the build-up of tool prices, fitted to the sheet Past tools.
type ToolFits struct {
	File     string // name of the workbook
	Currency string
	Kinds    []*study.ToolFit
}

// FitTools fits the coefficients of the sheet Tool relations to the sheet Past tools. What is wrong in the sheets that it reads is an
// error of the case (table.Diagnostics); the rest of the case may be unfinished.
func (w *Workbook) FitTools(ctx context.Context, o study.ToolFitOptions) (*ToolFits, error) {
	m := costmodel.New(w.data, w.lib)
	if ds := costmodel.OfToolFits(m.Diagnostics); len(ds) > 0 {
		return nil, ds.Sorted()
	}
	kinds, err := study.FitTools(ctx, m, o)
	if err != nil {
		return nil, err
	}
	return &ToolFits{File: w.data.File, Currency: m.Schema.Units.ModelCurrency(), Kinds: kinds}, nil
}

// AcceptedFits say what was put into a workbook.
type AcceptedFits struct {
	File        string // that was written
	Kinds       []string
	First, Last int // rows of the sheet Tool relations that are new
	Replaced    int // rows that were in force and now are not
}

// AcceptFits puts the fitted coefficients into the sheet Tool relations, with the day and the number of past tools they rest on, and saves the
// workbook: whole or not at all. What was in force stays as a row of the state replaced: the row itself, or a row with the library's value.
// Kinds that were not fitted are left out, and those with an unreliable coefficient unless all are wanted; nil where no kind is left. day
// stands under Date.
func (w *Workbook) AcceptFits(ctx context.Context, fits *ToolFits, day string, all bool) (*AcceptedFits, error) {
	out := &AcceptedFits{File: cmp.Or(w.options.Output, w.file)}
	var rows []scenarios.RelationRow
	var replaced []int
	for _, f := range fits.Kinds {
		if f.Fit == nil || !all && !f.Acceptable() {
			continue
		}
		out.Kinds = append(out.Kinds, f.Kind)
		for i, c := range f.Chosen {
			if c.Place.Row > 0 {
				replaced = append(replaced, c.Place.Row)
				out.Replaced++
			} else if c.Value != 0 {
				old := scenarios.RelationRow{Kind: f.Kind, Coefficient: c.Label, Value: c.Value, Unit: c.Unit, State: costmodel.StateReplaced,
					Source: "default of the library"}
				if c.Placeholder {
					old.Source = "placeholder of the library"
				}
				rows = append(rows, old)
				out.Replaced++
			}
			rows = append(rows, scenarios.RelationRow{Kind: f.Kind, Coefficient: c.Label, Value: rounded(f.Fit.Coefficients[i].Value), Unit: c.Unit,
				State: costmodel.StateFitted, Date: day, Count: len(f.Tools), Source: "fitted to the sheet Past tools", Note: fitNote(f, i)})
		}
	}
	if len(out.Kinds) == 0 {
		return nil, nil
	}
	var err error
	if out.First, out.Last, err = w.book.AddRelations(rows, replaced, w.lib); err != nil {
		return nil, err
	}
	return out, w.book.Save(ctx, out.File, w.options.saving())
}

// rounded keeps six figures of a coefficient, far more than a fit can tell.
func rounded(v float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		panic(err) // what was written is a number
	}
	return out
}

// fitNote says how sure a coefficient is.
func fitNote(f *study.ToolFit, i int) string {
	e := f.Fit.Coefficients[i]
	note := fmt.Sprintf("%s error made least", strings.TrimSuffix(f.Fit.Weighting.String(), " error"))
	if e.State == fit.Found {
		return fmt.Sprintf("%.0f %% sure between %.4g and %.4g; %s", f.Fit.Confidence*100, e.Low, e.High, note)
	}
	return e.State.String() + "; " + note
}

package costing

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/fit"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
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

// FitMachines fits the coefficients of the sheet Machine relations to the sheet Past machines, as FitTools does.
func (w *Workbook) FitMachines(ctx context.Context, o study.ToolFitOptions) (*ToolFits, error) {
	m := costmodel.New(w.data, w.lib)
	if ds := costmodel.OfMachineFits(m.Diagnostics); len(ds) > 0 {
		return nil, ds.Sorted()
	}
	kinds, err := study.FitMachines(ctx, m, o)
	if err != nil {
		return nil, err
	}
	return &ToolFits{File: w.data.File, Currency: m.Schema.Units.ModelCurrency(), Kinds: kinds}, nil
}

// HasPast tells which of the sheets Past tools and Past machines have rows.
func (w *Workbook) HasPast() (tools, machines bool) {
	rows := func(sheet string) bool { t := w.data.Table(sheet); return t != nil && len(t.Rows) > 0 }
	return rows("Past tools"), rows("Past machines")
}

// AcceptedFits say what was put into a workbook.
type AcceptedFits struct {
	File        string // that was written
	Kinds       []string
	Sheet       string
	First, Last int // rows of the sheet that are new
	Replaced    int // rows that were in force and now are not
}

// AcceptFits puts the fitted coefficients into the sheet Tool relations or Machine relations, with the day and the number of past rows they
// rest on, and saves the workbook: whole or not at all. What was in force stays as a row of the state replaced: the row itself, or a row with the
// library's value. Kinds that were not fitted are left out, and those with an unreliable coefficient unless all are wanted; nil where no kind is
// left. day stands under Date.
func (w *Workbook) AcceptFits(ctx context.Context, fits *ToolFits, day string, all bool) (*AcceptedFits, error) {
	out := &AcceptedFits{File: cmp.Or(w.options.Output, w.file)}
	var rows []scenarios.RelationRow
	var replaced []int
	to, past := scenarios.ToolRelations, "fitted to the sheet Past tools"
	for _, f := range fits.Kinds {
		if f.Fit == nil || !all && !f.Acceptable() {
			continue
		}
		if f.Machine != "" {
			to, past = scenarios.MachineRelations, "fitted to the sheet Past machines"
		}
		key := cmp.Or(f.Machine, f.Kind)
		out.Kinds = append(out.Kinds, f.Kind)
		for i, c := range f.Chosen {
			if c.Place.Row > 0 {
				replaced = append(replaced, c.Place.Row)
				out.Replaced++
			} else if c.Value != 0 {
				old := scenarios.RelationRow{Kind: key, Coefficient: c.Label, Value: c.Value, Unit: c.Unit, State: costmodel.StateReplaced,
					Source: "default of the library"}
				if c.Placeholder {
					old.Source = "placeholder of the library"
				}
				rows = append(rows, old)
				out.Replaced++
			}
			rows = append(rows, scenarios.RelationRow{Kind: key, Coefficient: c.Label, Value: rounded(f.Fit.Coefficients[i].Value), Unit: c.Unit,
				State: costmodel.StateFitted, Date: day, Count: len(f.Tools), Source: past, Note: fitNote(f, i)})
		}
	}
	if price := w.priceGiven(fits); price != "" {
		return nil, errors.New(price)
	}
	if len(out.Kinds) == 0 {
		return nil, nil
	}
	var err error
	out.Sheet = to.Name()
	if out.First, out.Last, err = w.book.AddRelations(to, rows, replaced, w.lib); err != nil {
		return nil, err
	}
	return out, w.book.Save(ctx, out.File, w.options.saving())
}

// priceGiven says that a machine has its price in the sheet Machines, so that a relation of the sheet Machine relations would give it twice; empty where
// none has.
func (w *Workbook) priceGiven(fits *ToolFits) string {
	t := w.data.Table("Machines")
	for _, f := range fits.Kinds {
		for i := 0; t != nil && f.Machine != "" && i < len(t.Rows); i++ {
			if v := t.ValueAt(t.Rows[i], "price"); t.TextAt(t.Rows[i], "machine") == f.Machine && v.Kind != table.Empty {
				return fmt.Sprintf("%s!%s gives the price of machine %s; clear the cell, so that the relation gives it, and accept again", v.Place.Sheet,
					v.Place.Cell(), f.Machine)
			}
		}
	}
	return ""
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

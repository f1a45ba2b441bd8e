package results

import (
	"context"
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/scenarios/handedits"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// Make makes the result sheets in a workbook of their own and returns its package, and the book with what was written.
// taken are names, in lower case, that sheets of the user's bear; overrides writes the sheet Overrides, nil where it stays
// as it is; notes are attached to cells, by sheet. Between two sheets it ends once ctx is done.
func Make(ctx context.Context, r *Result, taken map[string]bool, overrides func(*sheet.Book) error, notes map[string][]excelize.Comment) ([]byte,
	*sheet.Book, error) {
	b := &writer{Book: sheet.NewBook(notes), result: r, inputs: live.NewInputs(), overrides: overrides}
	defer b.File.Close()
	fresh, err := b.make(ctx, taken)
	return fresh, b.Book, err
}

func (b *writer) make(ctx context.Context, taken map[string]bool) ([]byte, error) {
	if err := b.reserve(taken); err != nil {
		return nil, err
	}
	// the calculations come first: they collect the inputs that the checks rest on
	for _, s := range b.sheets {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if err := b.calculation(s); err != nil {
			return nil, fmt.Errorf("sheet %s: %w", s.Name, err)
		}
	}
	if err := b.calculateQuotes(); err != nil {
		return nil, fmt.Errorf("sheet %s: %w", quoteCalculation, err)
	}
	b.followBenchmarks()
	b.Status = masterText(states(b.checkLines()))
	for _, fill := range []func() error{
		b.inputsAsRun, b.equalTerms, b.checks, b.summary, b.statement, b.breakdown, b.bill, b.partPages, b.rates, b.investment, b.curve,
		b.sideBySide, b.crossover, b.stability, b.maps, b.combinations, b.mustBeTrue, b.sensitivity, b.volumeView, b.trials, b.toolFits,
		b.againstShouldCost, b.findings, b.explanations,
		b.method, b.overridesPage, b.asWritten,
	} {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if err := fill(); err != nil {
			return nil, err
		}
	}
	buf, err := b.File.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

func (b *writer) overridesPage() error {
	if b.overrides == nil {
		return nil
	}
	return b.overrides(b.Book)
}

func (b *writer) asWritten() error { return handedits.WriteAsWritten(b.Book) }

// reserve makes all result sheets in their order and lays the calculations out.
func (b *writer) reserve(taken map[string]bool) error {
	plan := []string{StatementSheet, SummarySheet, BreakdownSheet, BillSheet, PartSheet, RatesSheet, InvestmentSheet, CurveSheet}
	plan = append(plan, b.studySheets()...)
	plan = append(plan, "", InputsSheet, sheet.ChecksSheet, MethodSheet, handedits.WrittenSheet)
	if b.overrides != nil {
		plan = append(plan[:len(plan)-1], handedits.OverridesSheet, handedits.WrittenSheet)
	}
	var order []string
	for _, name := range plan {
		if name != "" {
			b.Names[name] = sheet.FreeName(name, taken)
			order = append(order, b.Names[name])
			continue
		}
		for _, d := range b.result.Details {
			s := live.Build(calculationName(d.Plan.Scenario, taken), d, b.inputs)
			b.sheets = append(b.sheets, s)
			order = append(order, s.Name)
		}
		if a := b.result.Quotes; a != nil {
			b.quotes = live.Build(sheet.NameOf(quoteCalculation, taken), a.Detail, b.inputs)
			order = append(order, b.quotes.Name)
		}
	}
	for i, name := range order {
		if i == 0 {
			if err := b.File.SetSheetName("Sheet1", name); err != nil {
				return err
			}
			continue
		}
		if _, err := b.File.NewSheet(name); err != nil {
			return err
		}
	}
	return nil
}

// studySheets are the sheets of the studies that were made.
func (b *writer) studySheets() []string {
	var out []string
	for _, s := range []struct {
		made  bool
		sheet string
	}{
		{b.result.Compare != nil, CompareSheet}, {b.result.Crossover != nil, CrossoverSheet}, {len(b.result.Stability) > 0, stabilitySheet},
		{len(b.result.Maps) > 0, MapSheet},
		{len(b.result.Combinations) > 0, combinationSheet},
		{len(b.result.Solves) > 0, SolveSheet}, {len(b.result.Sensitivity)+len(b.result.Tables) > 0, SensitivitySheet},
		{b.result.Volumes != nil, VolumeSheet}, {len(b.result.Trials) > 0, TrialSheet}, {len(b.result.ToolFits) > 0, ToolFitSheet},
		{b.result.Quotes != nil, EqualTermsSheet}, {b.result.Quotes != nil, ShouldCostSheet}, {b.result.Quotes != nil, FindingsSheet},
		{b.result.Quotes != nil, ExplanationsSheet},
	} {
		if s.made {
			out = append(out, s.sheet)
		}
	}
	return out
}

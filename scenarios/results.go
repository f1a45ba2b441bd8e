package scenarios

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/scenarios/live"
)

// The sheets that a run writes, in their order; calculations, one a scenario, come before the last three.
const (
	summarySheet    = "Summary"
	breakdownSheet  = "Breakdown"
	billSheet       = "Bill and cumulated cost"
	partSheet       = "Part pages"
	ratesSheet      = "Rates"
	investmentSheet = "Investment"
	curveSheet      = "Volume curve"
	inputsSheet     = "Inputs as run"
	checksSheet     = "Checks"
	methodSheet     = "Method"
)

// ownNote stands in the second row of every sheet that the program writes; by it such a sheet is known and replaced.
const ownNote = "Written by piececost; replaced at each run."

// A Result is what a run writes into a workbook: every scenario at its own volume, and over the volumes.
type Result struct {
	Program string // name and version, for the statement
	Details []*costmodel.Detail
	Sweeps  []*costmodel.Sweep // over the same volumes, in the same order
}

// Open opens a workbook to write results into.
func Open(path string) (*Workbook, error) {
	f, err := open(path)
	if err != nil {
		return nil, err
	}
	return &Workbook{f: f}, nil
}

// IsStarter tells whether the workbook was made by `piececost new` and not saved by another program since.
func (w *Workbook) IsStarter() bool {
	p, err := w.f.GetDocProps()
	return err == nil && p.Identifier == starterMark
}

// Write puts the result sheets into the workbook: its own are replaced, a user's sheet of the same name is an error,
// since formulas refer to sheets by name.
func (w *Workbook) Write(r *Result) error {
	b := &writer{f: w.f, looks: newLooks(w.f), result: r, inputs: live.NewInputs()}
	taken := map[string]bool{}
	for _, d := range r.Details {
		b.sheets = append(b.sheets, live.Build(calculationName(d.Plan.Scenario, taken), d, b.inputs))
	}
	if err := b.reserve(); err != nil {
		return err
	}
	// the calculations come first: they collect the inputs that the checks rest on
	for _, s := range b.sheets {
		if err := b.calculation(s); err != nil {
			return fmt.Errorf("sheet %s: %w", s.Name, err)
		}
	}
	b.status = masterText(states(b.checkLines()))
	if err := b.inputsAsRun(); err != nil {
		return fmt.Errorf("sheet %s: %w", inputsSheet, err)
	}
	for _, fill := range []func() error{b.checks, b.summary, b.statement, b.breakdown, b.bill, b.partPages, b.rates, b.investment, b.curve, b.method} {
		if err := fill(); err != nil {
			return err
		}
	}
	if i, err := w.f.GetSheetIndex(summarySheet); err == nil {
		w.f.SetActiveSheet(i)
	}
	full := true
	return w.f.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &full})
}

type writer struct {
	f      *excelize.File
	looks  *looks
	result *Result
	sheets []*live.Sheet // calculations, as Details
	inputs *live.Inputs
	status string // what the master cell says at the run

	verdictRow              int // of Summary
	firstInput, lastInput   int // rows of Inputs as run
	firstFilled, lastFilled int
}

// reserve makes all result sheets in their order, replacing our own.
func (b *writer) reserve() error {
	names := []string{statementSheet, summarySheet, breakdownSheet, billSheet, partSheet, ratesSheet, investmentSheet, curveSheet}
	for _, s := range b.sheets {
		names = append(names, s.Name)
	}
	names = append(names, inputsSheet, checksSheet, methodSheet)
	if err := b.dropOwn(); err != nil {
		return err
	}
	for _, name := range names {
		if i, err := b.f.GetSheetIndex(name); err != nil || i >= 0 {
			return fmt.Errorf("the workbook has a sheet of its own called %q, where results would go; rename it and run again", name)
		}
		if _, err := b.f.NewSheet(name); err != nil {
			return err
		}
	}
	return nil
}

// dropOwn removes every sheet that an earlier run wrote, known by its second row.
func (b *writer) dropOwn() error {
	for _, sheet := range b.f.GetSheetList() {
		if note, err := b.f.GetCellValue(sheet, "A2"); err == nil && strings.HasPrefix(note, ownNote) {
			if err := b.f.DeleteSheet(sheet); err != nil {
				return err
			}
		}
	}
	return nil
}

func (b *writer) model() *costmodel.Model { return b.result.Details[0].Plan.Model }

func (b *writer) currency() string { return b.model().Schema.Units.ModelCurrency() }

const (
	moneyFormat = `#,##0.00;-#,##0.00;"–"`
	centFormat  = `#,##0.0000;-#,##0.0000;"–"`
	wholeFormat = `#,##0;-#,##0;"–"`
	massFormat  = "#,##0.000"
	shareFormat = "0.0%"
)

// money is the format of amounts of a piece: a cheap piece shows two decimals more.
func (b *writer) money() string {
	for _, d := range b.result.Details {
		if d.Statement().Digits > 2 {
			return centFormat
		}
	}
	return moneyFormat
}

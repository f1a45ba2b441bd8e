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

// Write puts the result sheets into the workbook: its own are replaced; where a user's sheet bears the name of one, ours
// is called piececost and that name.
func (w *Workbook) Write(r *Result) error {
	b := &writer{f: w.f, looks: newLooks(w.f), result: r, inputs: live.NewInputs(), names: map[string]string{}}
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
	for _, fill := range []func() error{b.inputsAsRun, b.checks, b.summary, b.statement, b.breakdown, b.bill, b.partPages, b.rates, b.investment, b.curve, b.method} {
		if err := fill(); err != nil {
			return err
		}
	}
	if i, err := w.f.GetSheetIndex(b.names[summarySheet]); err == nil {
		w.f.SetActiveSheet(i)
	}
	full := true
	return w.f.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &full})
}

type writer struct {
	f      *excelize.File
	looks  *looks
	result *Result
	sheets []*live.Sheet     // calculations, as Details
	names  map[string]string // of the result sheets: as planned, as written
	inputs *live.Inputs
	status string // what the master cell says at the run

	verdictRow              int // of Summary
	firstInput, lastInput   int // rows of Inputs as run
	firstFilled, lastFilled int
}

// reserve makes all result sheets in their order, replacing our own, and lays the calculations out.
func (b *writer) reserve() error {
	if err := b.dropOwn(); err != nil {
		return err
	}
	taken := map[string]bool{}
	for _, name := range b.f.GetSheetList() {
		taken[strings.ToLower(name)] = true
	}
	plan := []string{statementSheet, summarySheet, breakdownSheet, billSheet, partSheet, ratesSheet, investmentSheet, curveSheet, "", inputsSheet, checksSheet, methodSheet}
	var order []string
	for _, name := range plan {
		if name != "" {
			b.names[name] = freeName(name, taken)
			order = append(order, b.names[name])
			continue
		}
		for _, d := range b.result.Details {
			s := live.Build(calculationName(d.Plan.Scenario, taken), d, b.inputs)
			b.sheets = append(b.sheets, s)
			order = append(order, s.Name)
		}
	}
	for _, name := range order {
		if _, err := b.f.NewSheet(name); err != nil {
			return err
		}
	}
	return nil
}

// freeName is a sheet's name, or a longer one where a user's sheet bears it.
func freeName(name string, taken map[string]bool) string {
	as := name
	for n := 1; taken[strings.ToLower(as)]; n++ {
		as = "piececost " + name
		if n > 1 {
			as = fmt.Sprintf("piececost %s %d", name, n)
		}
	}
	taken[strings.ToLower(as)] = true
	return as
}

// quoted is the name of a result sheet for a formula.
func (b *writer) quoted(sheet string) string { return live.QuoteSheet(b.names[sheet]) }

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

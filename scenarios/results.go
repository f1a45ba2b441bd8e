package scenarios

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/live"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/sheet"
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
	methodSheet     = "Method"

	writtenSheetName = "As written"
)

// A Result is what a run writes into a workbook: every scenario at its own volume, and over the volumes.
type Result struct {
	Program string // name and version, for the statement
	Details []*costmodel.Detail
	Sweeps  []*costmodel.Sweep // over the same volumes, in the same order

	// Studies; nil or empty for none. Each kind has a sheet, tables stand below what is sensitive.
	Compare      *CompareStudy
	Crossover    *CrossoverStudy
	Stability    []*StabilityStudy
	Maps         []*MapStudy
	Solves       []*study.SolveAnswer
	Combinations []*CombinationStudy
	Sensitivity  []*Sensitivity
	Tables       []*TableStudy
	Volumes      *VolumeStudy
}

// Write puts the result sheets into the workbook: our own of an earlier run are replaced; where a user's sheet bears the
// name of one, ours is called piececost and that name. The sheets are made in a workbook of their own and then put into
// the package, so that every part of the user's stays as it is, to the byte.
func (w *Workbook) Write(r *Result) error {
	m := r.Details[0].Plan.Model
	record, err := w.findRemarks(m)
	if err != nil {
		return err
	}
	fresh, b, own, err := w.resultSheets(r, nil)
	if err != nil {
		return err
	}
	for { // rows of Overrides are listed in Inputs as run, so that what stands below them is placed once more
		more, notes := w.keepRemarks(record, b), notesToKeep(w.remarks)
		if len(more) == 0 && reflect.DeepEqual(notes, b.Attached) {
			break
		}
		if err := w.carryRemarks(m.Case, more); err != nil {
			return err
		}
		if fresh, b, own, err = w.resultSheets(r, notes); err != nil {
			return err
		}
	}
	ours, err := ooxml.OpenOwn(bytes.NewReader(fresh), int64(len(fresh)))
	if err != nil {
		return err
	}
	if err := w.findDrawings(record); err != nil {
		return err
	}
	var out bytes.Buffer
	if err := ooxml.PutKeeping(&out, w.pack, ours, func(s *ooxml.Sheet) bool { return own[s.Name] }, cellsToKeep(w.remarks)); err != nil {
		return err
	}
	w.out, w.summary = out.Bytes(), b.Names[summarySheet]
	return w.verify(ours)
}

// Summary is the name under which the sheet Summary was written.
func (w *Workbook) Summary() string { return w.summary }

// resultSheets makes the result sheets and says which sheets of the workbook they replace.
func (w *Workbook) resultSheets(r *Result, notes map[string][]excelize.Comment) (fresh []byte, b *writer, own map[string]bool, err error) {
	if own, err = w.ownSheets(); err != nil {
		return nil, nil, nil, err
	}
	taken := map[string]bool{}
	for _, s := range w.pack.Sheets {
		if w.overrides != nil && strings.EqualFold(s.Name, overridesSheet) {
			own[s.Name] = true // every cell of it is carried over
		}
		taken[sheet.SheetKey(s.Name)] = !own[s.Name]
	}
	b = &writer{Book: sheet.NewBook(notes), result: r, inputs: live.NewInputs(), overrides: w.overrides}
	fresh, err = b.resultSheets(taken)
	return fresh, b, own, err
}

// resultSheets makes the result sheets in a workbook of their own and returns its package. taken are names, in lower
// case, that sheets of the user's bear.
func (b *writer) resultSheets(taken map[string]bool) ([]byte, error) {
	defer b.File.Close()
	if err := b.reserve(taken); err != nil {
		return nil, err
	}
	// the calculations come first: they collect the inputs that the checks rest on
	for _, s := range b.sheets {
		if err := b.calculation(s); err != nil {
			return nil, fmt.Errorf("sheet %s: %w", s.Name, err)
		}
	}
	b.Status = masterText(states(b.checkLines()))
	for _, fill := range []func() error{b.inputsAsRun, b.checks, b.summary, b.statement, b.breakdown, b.bill, b.partPages, b.rates, b.investment, b.curve, b.sideBySide, b.crossover, b.stability, b.maps, b.combinations, b.mustBeTrue, b.sensitivity, b.volumeView, b.method, b.overridesPage, b.asWritten} {
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

type writer struct {
	*sheet.Book
	result    *Result
	sheets    []*live.Sheet // calculations, as Details
	inputs    *live.Inputs
	amounts   string                   // format of amounts of a piece
	ranged    map[costmodel.Place]bool // inputs outside their plausible range, by the findings
	overrides *overrideSheet           // nil where the sheet stays as it is

	verdictRow              int // of Summary
	firstInput, lastInput   int // rows of Inputs as run
	firstFilled, lastFilled int
}

// reserve makes all result sheets in their order and lays the calculations out.
func (b *writer) reserve(taken map[string]bool) error {
	plan := []string{statementSheet, summarySheet, breakdownSheet, billSheet, partSheet, ratesSheet, investmentSheet, curveSheet}
	plan = append(plan, b.studySheets()...)
	plan = append(plan, "", inputsSheet, sheet.ChecksSheet, methodSheet, writtenSheetName)
	if b.overrides != nil {
		plan = append(plan[:len(plan)-1], overridesSheet, writtenSheetName)
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
		{b.result.Compare != nil, compareSheet}, {b.result.Crossover != nil, crossoverSheet}, {len(b.result.Stability) > 0, stabilitySheet}, {len(b.result.Maps) > 0, mapSheet},
		{len(b.result.Combinations) > 0, combinationSheet},
		{len(b.result.Solves) > 0, solveSheet}, {len(b.result.Sensitivity)+len(b.result.Tables) > 0, sensitivitySheet},
		{b.result.Volumes != nil, volumeSheet},
	} {
		if s.made {
			out = append(out, s.sheet)
		}
	}
	return out
}

func (b *writer) model() *costmodel.Model { return b.result.Details[0].Plan.Model }

func (b *writer) currency() string { return b.model().Schema.Units.ModelCurrency() }

// money is the format of amounts of a piece: a cheap piece shows two decimals more.
func (b *writer) money() string {
	if b.amounts == "" {
		b.amounts = b.amountFormat()
	}
	return b.amounts
}

func (b *writer) amountFormat() string {
	for _, d := range b.result.Details {
		if d.Statement().Digits > 2 {
			return sheet.CentFormat
		}
	}
	return sheet.MoneyFormat
}

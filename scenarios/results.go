package scenarios

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/scenarios/live"
)

// The sheets that a run writes, in their order.
const (
	summarySheet   = "Summary"
	breakdownSheet = "Breakdown"
	curveSheet     = "Volume curve"
)

// ownNote stands in the second row of every sheet that the program writes; by it such a sheet is known and replaced.
const ownNote = "Written by piececost; replaced at each run."

// A Result is what a run writes into a workbook: every scenario at its own volume, and over the volumes.
type Result struct {
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

// Write puts the result sheets into the workbook: its own are replaced, a user's sheet of the same name is left alone.
func (w *Workbook) Write(r *Result) error {
	b := &writer{f: w.f, looks: newLooks(w.f), result: r}
	for _, s := range []struct {
		name string
		fill func(sheet string) error
	}{{summarySheet, b.summary}, {breakdownSheet, b.breakdown}, {curveSheet, b.curve}} {
		name, err := b.sheet(s.name)
		if err != nil {
			return err
		}
		if err := s.fill(name); err != nil {
			return fmt.Errorf("sheet %s: %w", name, err)
		}
	}
	inputs := live.NewInputs()
	taken := map[string]bool{}
	for _, d := range r.Details {
		s := live.Build(calculationName(d.Plan.Scenario, taken), d, inputs)
		if err := b.calculation(s); err != nil {
			return fmt.Errorf("sheet %s: %w", s.Name, err)
		}
	}
	if i, err := w.f.GetSheetIndex(b.names[summarySheet]); err == nil {
		w.f.SetActiveSheet(i)
	}
	return nil
}

type writer struct {
	f      *excelize.File
	looks  *looks
	result *Result
	names  map[string]string // sheet as planned: as written
}

// sheet makes an empty sheet of a name, or of a longer one where a user's own sheet bears it.
func (b *writer) sheet(name string) (string, error) {
	if b.names == nil {
		b.names = map[string]string{}
	}
	as := name
	for n := 0; ; n++ {
		if n == 1 {
			as = "piececost " + name
		} else if n > 1 {
			as = fmt.Sprintf("piececost %s %d", name, n)
		}
		i, err := b.f.GetSheetIndex(as)
		if err != nil {
			return "", err
		}
		if i < 0 {
			break
		}
		if note, err := b.f.GetCellValue(as, "A2"); err != nil || note != ownNote {
			continue
		}
		if err := b.f.DeleteSheet(as); err != nil {
			return "", err
		}
		break
	}
	b.names[name] = as
	_, err := b.f.NewSheet(as)
	return as, err
}

// sheetNamed is sheet for a name that must be kept, since formulas use it.
func (b *writer) sheetNamed(name string) (string, error) {
	as, err := b.sheet(name)
	if err == nil && as != name {
		err = fmt.Errorf("the workbook has a sheet of its own called %q; rename it", name)
	}
	return as, err
}

// put writes a value in a look.
func (b *writer) put(sheet string, row, col int, value any, k look) error {
	id, err := b.looks.id(k)
	if err != nil {
		return err
	}
	cell, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		return err
	}
	if value != nil {
		if err := b.f.SetCellValue(sheet, cell, value); err != nil {
			return err
		}
	}
	return b.f.SetCellStyle(sheet, cell, cell, id)
}

// putRow writes a label and values in one look each.
func (b *writer) putRow(sheet string, row int, label string, values []float64, words, numbers look) error {
	if err := b.put(sheet, row, 1, label, words); err != nil {
		return err
	}
	for i, v := range values {
		if err := b.put(sheet, row, i+2, v, numbers); err != nil {
			return err
		}
	}
	return nil
}

// title writes the first two rows of a result sheet.
func (b *writer) title(sheet, text string) error {
	if err := b.put(sheet, 1, 1, text, look{kind: "title"}); err != nil {
		return err
	}
	if err := b.f.SetRowHeight(sheet, 1, 24); err != nil {
		return err
	}
	return b.put(sheet, 2, 1, ownNote, look{kind: "faint"})
}

// heading writes a heading row; the first left columns hold words.
func (b *writer) heading(sheet string, row, left int, texts ...string) error {
	for i, t := range texts {
		if err := b.put(sheet, row, i+1, t, look{kind: "heading", right: i >= left}); err != nil {
			return err
		}
	}
	return b.f.SetRowHeight(sheet, row, 30)
}

func (b *writer) width(sheet string, from, to int, width float64) error {
	a, err := excelize.ColumnNumberToName(from)
	if err != nil {
		return err
	}
	z, err := excelize.ColumnNumberToName(to)
	if err != nil {
		return err
	}
	return b.f.SetColWidth(sheet, a, z, width)
}

func (b *writer) currency() string {
	return b.result.Details[0].Plan.Model.Schema.Units.ModelCurrency()
}

const (
	moneyFormat = `#,##0.00;-#,##0.00;"–"`
	wholeFormat = "#,##0"
	massFormat  = "#,##0.000"
)

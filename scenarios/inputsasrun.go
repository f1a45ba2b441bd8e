package scenarios

import (
	"fmt"
	"sort"

	"piececost/costmodel"
	"piececost/scenarios/live"
)

// The columns of Inputs as run.
const (
	colThen    = 5
	colNow     = 6
	colChanged = 7
	colFollows = 8
	colOutside = 11
)

// The headings by which the next run finds where the input cells stood and where they are.
const (
	headInputSheet = "Sheet"
	headInputCell  = "Cell"
	headInputNow   = "Now"
)

// inputsAsRun lists every input cell that the results rest on: as it was at the run, as it is now, whether they are the
// same and whether the formulas follow a change; and how many cells of each column were filled.
func (b *writer) inputsAsRun() error {
	p, err := b.page(inputsSheet, inputsTitle)
	if err != nil {
		return err
	}
	cells, columns := b.model().CellsRead()
	used := b.usedInputs()
	p.heading(5, 16, headInputSheet, headInputCell, "Row", "Column", "At the run", headInputNow, "Changed", "Followed by formulas", "Plausible from", "to", "Outside", "Source", "Date", "Owner", "Confidence", "Note")
	sort.SliceStable(cells, func(i, j int) bool { return placeBefore(cells[i].Value.Place, cells[j].Value.Place) })
	row := 5
	for _, c := range cells {
		row++
		b.inputRow(p, row, c, used[c.Value.Place])
	}
	b.firstInput, b.lastInput = 6, row
	b.filledCells(p, row+2, columns)
	for i, w := range []float64{17, 8, 16, 26, 18, 18, 9, 10, 10, 10, 9, 12, 10, 10, 11, 30} {
		p.widths[i+1] = w
	}
	p.landscape, p.titles, p.freeze = true, 5, "E6"
	return p.flush()
}

func placeBefore(a, z costmodel.Place) bool {
	if a.Sheet != z.Sheet {
		return layoutRank(a.Sheet) < layoutRank(z.Sheet)
	}
	if a.Row != z.Row {
		return a.Row < z.Row
	}
	return a.Col < z.Col
}

func layoutRank(sheet string) int {
	for i := range costmodel.Layouts {
		if costmodel.Layouts[i].Sheet == sheet {
			return i
		}
	}
	return len(costmodel.Layouts)
}

// inputRow writes one input cell. Numbers are compared as numbers, words letter by letter.
func (b *writer) inputRow(p *page, row int, c costmodel.CellUse, used *live.Input) {
	v := c.Value
	label, num := look{kind: "label"}, look{kind: "number"}
	p.set(row, 1, v.Place.Sheet, label)
	p.set(row, 2, v.Place.Cell(), label)
	thing, quantity := c.Names()
	p.set(row, 3, thing, label)
	p.set(row, 4, quantity, label)
	then, now := fmt.Sprintf("E%d", row), fmt.Sprintf("F%d", row)
	same := fmt.Sprintf("IF(EXACT(%s,%s),0,1)", then, now)
	link := look{kind: "link"}
	if v.Kind == costmodel.Number || v.Kind == costmodel.Date {
		same = fmt.Sprintf("IF(%s=%s,0,1)", then, now)
		p.set(row, colThen, v.Number, num)
		p.formula(row, colNow, live.CellRef(v.Place), v.Number, link)
	} else {
		p.set(row, colThen, v.Text, label)
		p.formula(row, colNow, live.CellRef(v.Place), v.Text, link)
	}
	p.formula(row, colChanged, same, 0.0, look{kind: "number", format: "0"})
	whole := look{kind: "number", format: "0"}
	switch {
	case used == nil || !used.Live:
		p.set(row, colFollows, 0.0, whole)
	case v.Kind == costmodel.Number: // only as long as it is a number
		p.formula(row, colFollows, fmt.Sprintf("COUNT(%s)", now), 1.0, whole)
	default:
		p.set(row, colFollows, 1.0, whole)
	}
	lo, hi, follows := b.plausible(c, used)
	outside := b.outsideAtRun(c, used)
	switch {
	case follows:
		p.set(row, 9, lo, num)
		p.set(row, 10, hi, num)
		p.formula(row, colOutside, "IF("+costmodel.PlausibleTest(now, fmt.Sprintf("I%d", row), fmt.Sprintf("J%d", row))+",0,1)", outside, whole)
	case outside > 0: // a quantity in words, or one that no result rests on: as at the run
		p.set(row, colOutside, outside, whole)
	}
	if used == nil || used.Record == nil {
		return
	}
	for i, name := range []string{"source", "date", "owner", "confidence", "note"} {
		if text := used.Record.Text(name); text != "" {
			p.set(row, 12+i, text, label)
		}
	}
}

// plausible returns the range of an input in the unit of its cell; ok is false where a formula can't compare the two.
func (b *writer) plausible(c costmodel.CellUse, used *live.Input) (lo, hi float64, ok bool) {
	if used == nil || used.Record == nil {
		return 0, 0, false
	}
	return b.model().Plausible(used.Record, c.Value.Place)
}

// outsideAtRun is 1 for an input outside its plausible range, as its row says it.
func (b *writer) outsideAtRun(c costmodel.CellUse, used *live.Input) float64 {
	lo, hi, ok := b.plausible(c, used)
	if ok && !costmodel.IsPlausible(c.Value.Number, lo, hi) {
		return 1
	}
	if !ok && b.outOfRange()[c.Value.Place] {
		return 1
	}
	return 0
}

// outOfRange are the cells of which the case's findings say so.
func (b *writer) outOfRange() map[costmodel.Place]bool {
	if b.ranged == nil {
		b.ranged = map[costmodel.Place]bool{}
		for _, d := range b.model().Diagnostics {
			if d.Code == "range" {
				b.ranged[d.Place] = true
			}
		}
	}
	return b.ranged
}

// outsideInputs counts the inputs outside their plausible range.
func (b *writer) outsideInputs() float64 {
	cells, _ := b.model().CellsRead()
	used := b.usedInputs()
	n := 0.0
	for _, c := range cells {
		n += b.outsideAtRun(c, used[c.Value.Place])
	}
	return n
}

// usedInputs are the inputs that the calculations read, by their cell.
func (b *writer) usedInputs() map[costmodel.Place]*live.Input {
	used := map[costmodel.Place]*live.Input{}
	for _, in := range b.inputs.Sorted() {
		used[in.Place] = in
	}
	return used
}

const beyond = 500 // rows below the data in which a filled cell is noticed

// filledCells counts the filled cells of every column that matters, and where its last row stands, so that added, removed
// and moved rows are noticed.
func (b *writer) filledCells(p *page, row int, columns []costmodel.ColumnUse) {
	p.heading(row, 4, "Sheet", "Cells", "", "Column", "Filled at the run", "Filled now", "Changed", "", "Last row at the run", "Last row now", "Moved")
	b.firstFilled = row + 1
	for _, c := range columns {
		row++
		col := costmodel.ColumnName(c.Col)
		cells := fmt.Sprintf("%s!%s%d:%s%d", live.QuoteSheet(c.Sheet), col, c.FirstRow, col, c.LastRow+beyond)
		p.set(row, 1, c.Sheet, look{kind: "label"})
		p.set(row, 2, fmt.Sprintf("%s%d:%s%d", col, c.FirstRow, col, c.LastRow+beyond), look{kind: "label"})
		p.set(row, 4, c.Heading, look{kind: "label"})
		p.set(row, colThen, float64(c.Counted), look{kind: "number", format: "0"})
		p.formula(row, colNow, "COUNTA("+cells+")", float64(c.Counted), look{kind: "link", format: "0"})
		p.formula(row, colChanged, fmt.Sprintf("IF(E%d=F%d,0,1)", row, row), 0.0, look{kind: "number", format: "0"})
		p.set(row, 9, float64(c.LastRow), look{kind: "number", format: "0"})
		p.formula(row, 10, fmt.Sprintf("ROW(%s!%s%d)", live.QuoteSheet(c.Sheet), col, c.LastRow), float64(c.LastRow), look{kind: "link", format: "0"})
		p.formula(row, colOutside, fmt.Sprintf("IF(I%d=J%d,0,1)", row, row), 0.0, look{kind: "number", format: "0"})
	}
	b.lastFilled = row
}

// changedInputs counts the input cells that are not as they were.
func (b *writer) changedInputs() string {
	return fmt.Sprintf("SUM(%s!$G$%d:$G$%d)", b.quoted(inputsSheet), b.firstInput, b.lastInput)
}

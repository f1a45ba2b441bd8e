package results

import (
	"fmt"
	"sort"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/handedits"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// The columns of Input record.
const (
	colThen    = 5
	colNow     = 6
	colChanged = 7
	colFollows = 8
	colOutside = 11
)

// inputsAsRun lists every input cell that the results rest on: as it was at the run, as it is now, whether they are the
// same and whether the formulas follow a change; and how many cells of each column were filled.
func (b *writer) inputsAsRun() error {
	p, err := b.Page(InputsSheet, handedits.InputsTitle)
	if err != nil {
		return err
	}
	cells, columns := b.cellsRead()
	used := b.usedInputs()
	p.Heading(5, 16, handedits.HeadInputSheet, handedits.HeadInputCell, "Row", "Column", "At the run", handedits.HeadInputNow, "Changed",
		"Followed by formulas", "Plausible from", "to", "Outside", "Source", "Date", "Owner", "Confidence", "Note")
	sort.SliceStable(cells, func(i, j int) bool { return placeBefore(cells[i].Value.Place, cells[j].Value.Place) })
	row := 5
	for _, c := range cells {
		row++
		b.inputRow(p, row, c, used[c.Value.Place])
	}
	b.firstInput, b.lastInput = 6, row
	b.filledCells(p, row+2, columns)
	for i, w := range []float64{17, 8, 16, 26, 18, 18, 9, 10, 10, 10, 9, 12, 10, 10, 11, 30} {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles, p.Freeze = true, 5, "E6"
	return p.Flush()
}

// cellsRead are the input cells that the sheets of the run rest on, those of quotes where it has their sheets.
func (b *writer) cellsRead() ([]costmodel.CellUse, []costmodel.ColumnUse) {
	cells, columns := b.model().CellsRead()
	if b.quotes != nil {
		more, their := b.model().CellsOfQuotes()
		cells, columns = append(cells, more...), append(columns, their...)
	}
	return cells, columns
}

func placeBefore(a, z table.Place) bool {
	if a.Sheet != z.Sheet {
		return table.SheetRank(a.Sheet) < table.SheetRank(z.Sheet)
	}
	if a.Row != z.Row {
		return a.Row < z.Row
	}
	return a.Col < z.Col
}

// inputRow writes one input cell. Numbers are compared as numbers, words letter by letter.
func (b *writer) inputRow(p *sheet.Page, row int, c costmodel.CellUse, used *live.Input) {
	v := c.Value
	label, num := sheet.Look{Kind: "label"}, sheet.Look{Kind: "number"}
	p.Set(row, 1, v.Place.Sheet, label)
	p.Set(row, 2, v.Place.Cell(), label)
	thing, quantity := c.Names()
	p.Set(row, 3, thing, label)
	p.Set(row, 4, quantity, label)
	then, now := fmt.Sprintf("E%d", row), fmt.Sprintf("F%d", row)
	same := fmt.Sprintf("IF(EXACT(%s,%s),0,1)", then, now)
	link := sheet.Look{Kind: "link"}
	if v.Kind == table.Number || v.Kind == table.Date {
		same = fmt.Sprintf("IF(%s=%s,0,1)", then, now)
		p.Set(row, colThen, v.Number, num)
		p.Formula(row, colNow, live.CellRef(v.Place), v.Number, link)
	} else {
		p.Set(row, colThen, v.Text, label)
		p.Formula(row, colNow, live.CellRef(v.Place), v.Text, link)
	}
	p.Formula(row, colChanged, same, 0.0, sheet.Look{Kind: "number", Format: "0"})
	whole := sheet.Look{Kind: "number", Format: "0"}
	switch {
	case used == nil || !used.Live:
		p.Set(row, colFollows, 0.0, whole)
	case v.Kind == table.Number: // only as long as it is a number
		p.Formula(row, colFollows, fmt.Sprintf("COUNT(%s)", now), 1.0, whole)
	default:
		p.Set(row, colFollows, 1.0, whole)
	}
	lo, hi, follows := b.plausible(c, used)
	outside := b.outsideAtRun(c, used)
	switch {
	case follows:
		p.Set(row, 9, lo, num)
		p.Set(row, 10, hi, num)
		p.Formula(row, colOutside, "IF("+costmodel.PlausibleTest(now, fmt.Sprintf("I%d", row), fmt.Sprintf("J%d", row))+",0,1)", outside, whole)
	case outside > 0: // a quantity in words, or one that no result rests on: as at the run
		p.Set(row, colOutside, outside, whole)
	}
	if used == nil || used.Record == nil {
		return
	}
	for i, name := range []string{"source", "date", "owner", "confidence", "note"} {
		if text := used.Record.Text(name); text != "" {
			p.Set(row, 12+i, text, label)
		}
	}
}

// plausible returns the range of an input in the unit of its cell; ok is false where a formula can't compare the two.
func (b *writer) plausible(c costmodel.CellUse, used *live.Input) (lo, hi float64, ok bool) {
	if used == nil || used.Record == nil {
		return 0, 0, false
	}
	if scope := used.Record.Scope; scope == "request" || scope == "quote" || scope == "quote line" {
		return b.quotes.Plan.Model.Plausible(used.Record, c.Value.Place)
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
func (b *writer) outOfRange() map[table.Place]bool {
	if b.ranged == nil {
		b.ranged = map[table.Place]bool{}
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
	cells, _ := b.cellsRead()
	used := b.usedInputs()
	n := 0.0
	for _, c := range cells {
		n += b.outsideAtRun(c, used[c.Value.Place])
	}
	return n
}

// usedInputs are the inputs that the calculations read, by their cell.
func (b *writer) usedInputs() map[table.Place]*live.Input {
	used := map[table.Place]*live.Input{}
	for _, in := range b.inputs.Sorted() {
		used[in.Place] = in
	}
	return used
}

// filledCells counts the filled cells of every column that matters, and where its last row stands, so that added, removed
// and moved rows are noticed.
func (b *writer) filledCells(p *sheet.Page, row int, columns []costmodel.ColumnUse) {
	p.Heading(row, 4, "Sheet", "Cells", "", "Column", "Filled at the run", "Filled now", "Changed", "", "Last row at the run", "Last row now", "Moved")
	b.firstFilled = row + 1
	for _, c := range columns {
		row++
		col := table.ColumnName(c.Col)
		cells := fmt.Sprintf("%s!%s%d:%s%d", live.QuoteSheet(c.Sheet), col, c.FirstRow, col, c.LastRow+costmodel.CountedBelow)
		p.Set(row, 1, c.Sheet, sheet.Look{Kind: "label"})
		p.Set(row, 2, fmt.Sprintf("%s%d:%s%d", col, c.FirstRow, col, c.LastRow+costmodel.CountedBelow), sheet.Look{Kind: "label"})
		p.Set(row, 4, c.Heading, sheet.Look{Kind: "label"})
		p.Set(row, colThen, float64(c.Counted), sheet.Look{Kind: "number", Format: "0"})
		p.Formula(row, colNow, "COUNTA("+cells+")", float64(c.Counted), sheet.Look{Kind: "link", Format: "0"})
		p.Formula(row, colChanged, fmt.Sprintf("IF(E%d=F%d,0,1)", row, row), 0.0, sheet.Look{Kind: "number", Format: "0"})
		p.Set(row, 9, float64(c.LastRow), sheet.Look{Kind: "number", Format: "0"})
		p.Formula(row, 10, fmt.Sprintf("ROW(%s!%s%d)", live.QuoteSheet(c.Sheet), col, c.LastRow), float64(c.LastRow), sheet.Look{Kind: "link", Format: "0"})
		p.Formula(row, colOutside, fmt.Sprintf("IF(I%d=J%d,0,1)", row, row), 0.0, sheet.Look{Kind: "number", Format: "0"})
	}
	b.lastFilled = row
}

// changedInputs counts the input cells that are not as they were.
func (b *writer) changedInputs() string {
	return fmt.Sprintf("SUM(%s!$G$%d:$G$%d)", b.Quoted(InputsSheet), b.firstInput, b.lastInput)
}

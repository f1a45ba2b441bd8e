package results

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/handedits"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// notChecked is the kind of a condition that could not be looked at.
const notChecked = "not checked"

// checkLetters is how much of a check's words stands on one line of its column.
const checkLetters = 62

// checks writes the checks, errors and warnings counted apart, and the master cell that every result sheet shows.
func (b *writer) checks() error {
	lines := b.checkLines()
	p, err := b.Page(sheet.ChecksSheet, "Checks")
	if err != nil {
		return err
	}
	p.Heading(9, 2, "Check", "Scenario", "Value", "Limit", "Severity", "Status")
	first := 10
	counts := states(lines)
	for i, l := range lines {
		row := first + i
		p.Set(row, 1, l.what, sheet.Look{Kind: "label", Wrap: true})
		p.Set(row, 2, l.scenario, sheet.Look{Kind: "label"})
		p.Formula(row, 3, l.formula, l.value, sheet.Look{Kind: "number", Format: "0.######"})
		p.Set(row, 4, l.allowed, sheet.Look{Kind: "number", Format: "0.######"})
		p.Set(row, 5, l.kind, sheet.Look{Kind: "label"})
		state := "passed"
		if l.value > l.allowed {
			state = l.kind
		}
		p.Formula(row, 6, fmt.Sprintf(`IF(COUNT(C%d)=0,"error",IF(C%d<=D%d,"passed",E%d))`, row, row, row, row), state, sheet.Look{Kind: "label", Right: true})
		if lines := (len([]rune(l.what)) + checkLetters - 1) / checkLetters; lines > 1 {
			p.Heights[row] = 14 * float64(lines)
		}
	}
	last := first + len(lines) - 1
	b.placeholders(p, b.machineSizes(p, b.machinesChosen(p, b.setByHand(p, last))))
	for i, kind := range []string{"error", "warning", "run again", notChecked} {
		p.Set(4+i, 1, map[string]string{"error": "Errors", "warning": "Warnings", "run again": "Changes that the formulas can't follow",
			notChecked: "Not checked, since an input is not given"}[kind], sheet.Look{Kind: "label"})
		p.Formula(4+i, 3, fmt.Sprintf(`SUMPRODUCT((F%d:F%d="%s")*1)`, first, last, kind), float64(counts[kind]), sheet.Look{Kind: "number", Format: "0"})
	}
	p.Formula(3, 1, `IF(C6>0,"RUN AGAIN: something has changed that the formulas can't follow, see Checks",IF(C4>0,C4&IF(C4=1," error"," errors")&", `+
		`see Checks",IF(C5>0,"no errors, "&C5&IF(C5=1," warning"," warnings")&", see Checks",IF(C7>0,"all checks passed but "&C7&" not made, see `+
		`Checks","all checks passed"))))`, b.Status, sheet.Look{Kind: "total"})
	p.Widths[1], p.Widths[2] = 62, 16
	for c := 3; c <= 6; c++ {
		p.Widths[c] = 12
	}
	p.Titles, p.Freeze = 9, "A10"
	return p.Flush()
}

// states counts the lines that do not hold by what that means.
func states(lines []checkLine) map[string]int {
	counts := map[string]int{}
	for _, l := range lines {
		if l.value > l.allowed {
			counts[l.kind]++
		}
	}
	return counts
}

func masterText(counts map[string]int) string {
	switch {
	case counts["run again"] > 0:
		return "RUN AGAIN: something has changed that the formulas can't follow, see Checks"
	case counts["error"] > 0:
		return sheet.Counted(counts["error"], "error") + ", see Checks"
	case counts["warning"] > 0:
		return "no errors, " + sheet.Counted(counts["warning"], "warning") + ", see Checks"
	}
	if n := counts[notChecked]; n > 0 {
		return fmt.Sprintf("all checks passed but %d not made, see Checks", n)
	}
	return "all checks passed"
}

func (b *writer) checkLines() []checkLine {
	inputs := func(col string, first, last int) string {
		return fmt.Sprintf("%s!$%s$%d:$%s$%d", b.Quoted(InputsSheet), col, first, col, last)
	}
	lines := []checkLine{
		{what: "Keys, words, headings or texts of input cells changed since the run",
			formula: fmt.Sprintf("SUMIFS(%s,%s,0)", inputs("G", b.firstInput, b.lastInput), inputs("H", b.firstInput, b.lastInput)), kind: "run again"},
		{what: "Columns in which cells were filled or cleared since the run", formula: "SUM(" + inputs("G", b.firstFilled, b.lastFilled) + ")",
			kind: "run again"},
		{what: "Columns whose rows were moved since the run", formula: "SUM(" + inputs("K", b.firstFilled, b.lastFilled) + ")", kind: "run again"},
		{what: "Numbers, grades, machines and rules changed since the run; the formulas have followed",
			formula: fmt.Sprintf("SUMIFS(%s,%s,1)", inputs("G", b.firstInput, b.lastInput), inputs("H", b.firstInput, b.lastInput)), allowed: 1e9,
			kind: "note"},
		{what: "Inputs outside their plausible range", formula: "SUM(" + inputs("K", b.firstInput, b.lastInput) + ")", value: b.outsideInputs(),
			kind: "warning"},
	}
	if l, ok := b.overridesCheck(); ok {
		lines = append(lines, l)
	}
	for i, s := range b.sheets {
		lines = append(lines, b.scenarioChecks(i, s)...)
	}
	return append(lines, b.quoteChecks()...)
}

// overridesCheck counts the rows of Overrides that are in force.
func (b *writer) overridesCheck() (checkLine, bool) {
	if len(b.model().Overrides) == 0 {
		return checkLine{}, false
	}
	t := b.model().Case.Table(handedits.OverridesSheet)
	column := func(name string) string {
		c, ok := t.Column(name)
		if !ok {
			return ""
		}
		col := table.ColumnName(c.Place.Col)
		return fmt.Sprintf("%s!$%s$%d:$%s$%d", handedits.OverridesSheet, col, c.Place.Row+1, col, t.Rows[len(t.Rows)-1].Number)
	}
	rows := map[int]bool{}
	for _, o := range b.model().Overrides {
		rows[o.Value.Place.Row] = true
	}
	formula := fmt.Sprintf(`SUMPRODUCT((%s<>"")*1)`, column("value"))
	if state := column("state"); state != "" {
		formula = fmt.Sprintf(`SUMPRODUCT((%s<>"")*((%s="%s")+(%s="")))`, column("value"), state, table.InForce, state)
	}
	return checkLine{what: "Results set by hand, listed below and in Overrides", formula: formula, value: float64(len(rows)), kind: "warning"}, true
}

// placeholders lists the placeholders of the library that matter to a piece cost, as they did at the run.
func (b *writer) placeholders(p *sheet.Page, row int) {
	var plans []*costmodel.Plan
	for _, s := range b.sheets {
		plans = append(plans, s.Plan)
	}
	matter, others := costmodel.CasePlaceholders(plans)
	if len(matter) == 0 {
		return
	}
	row += 2
	p.Heading(row, 2, "Placeholders of the library, at the run", "Scenario", "Share of piece cost")
	for _, s := range matter {
		row++
		p.Set(row, 1, s.Says()+"; type an own figure to replace it", sheet.Look{Kind: "label", Wrap: true})
		p.Set(row, 2, s.In, sheet.Look{Kind: "label"})
		p.Set(row, 3, s.Share, sheet.Look{Kind: "number", Format: "0.0%"})
	}
	if others > 0 {
		p.Set(row+1, 1, sheet.Counted(others, "other placeholder")+" with less", sheet.Look{Kind: "label"})
	}
}

// setByHand lists the overrides in force below the checks and returns the last row.
func (b *writer) setByHand(p *sheet.Page, row int) int {
	if len(b.model().Overrides) == 0 {
		return row
	}
	row += 2
	p.Heading(row, 2, "Set by hand", "Scenario", "Value")
	for _, o := range b.model().Overrides {
		row++
		p.Set(row, 1, fmt.Sprintf("%s %s: %s", o.Sheet, o.Row, o.Column), sheet.Look{Kind: "label", Wrap: true})
		p.Set(row, 2, o.Scenario, sheet.Look{Kind: "label"})
		k := sheet.Look{Kind: "link", Format: "#,##0.######"}
		value := any(o.Value.Text)
		switch {
		case o.Value.Percent:
			k.Format = "0.00%"
			value = o.Value.Number
		case o.Value.Kind == table.Number:
			value = o.Value.Number
		default:
			k.Format = ""
		}
		p.Formula(row, 3, live.CellRef(o.Value.Place), value, k)
	}
	return row
}

// scenarioChecks are the checks of one calculation, by index: rows moved, the total against its elements, Summary as it is
// shown, and every condition of the library.
func (b *writer) scenarioChecks(i int, s *live.Sheet) []checkLine {
	name := s.Plan.Scenario.Name
	last := s.Blocks[len(s.Blocks)-1].Last()
	own := live.QuoteSheet(s.Name)
	annual, piece := scenarioRef(s, "annual_cost"), scenarioRef(s, "piece_cost")
	var elements string
	for i, e := range b.elements() {
		if i > 0 {
			elements += "+"
		}
		elements += scenarioRef(s, e.PieceName()).Formula
	}
	lines := []checkLine{
		{what: "Rows of the input sheets moved since the run", formula: fmt.Sprintf("SUM(%s!$C$1:$C$%d)", own, last), kind: "run again"},
		{what: "Elements against piece cost, difference", formula: fmt.Sprintf("ABS(%s-(%s))", piece.Formula, elements), value: b.elementGap(s),
			allowed: 1e-6, kind: "error"},
		b.summaryCheck(i, s),
		{what: "Annual cost that is not above 0", formula: fmt.Sprintf("IF(%s>0,0,1)", annual.Formula), value: notAbove(annual.Num), kind: "error"},
	}
	lines = append(lines, b.choiceChecks(s)...)
	for _, block := range s.Blocks {
		for _, c := range block.Columns {
			if l, ok := b.conditionCheck(s, block, c); ok {
				l.scenario = name
				lines = append(lines, l)
			}
		}
	}
	for _, n := range s.Plan.NotChecked() {
		count := float64(len(n.Rows))
		lines = append(lines, checkLine{what: n.Says() + "; " + n.Why(), formula: fmt.Sprintf("%g", count), value: count, kind: notChecked})
	}
	for i := range lines {
		lines[i].scenario = name
	}
	return lines
}

func notAbove(v float64) float64 {
	if v > 0 {
		return 0
	}
	return 1
}

// conditionCheck counts the rows in which a condition of the library does not hold.
func (b *writer) conditionCheck(s *live.Sheet, block *live.Block, c *live.Column) (checkLine, bool) {
	q := s.QuantityOf(block, c)
	if q == nil || q.Check == nil || c.Kind == live.Link {
		return checkLine{}, false
	}
	rows, holds := 0.0, 0.0
	for row := range block.Rows {
		if cell := block.Cell(c, row); cell.Kind == live.Number {
			rows++
			holds += cell.Num
		}
	}
	cells := s.Qualified(block.Range(c))
	kind := "warning"
	if q.Check.Error {
		kind = "error"
	}
	return checkLine{what: blockName(block) + ": " + q.Check.Say, formula: fmt.Sprintf("COUNT(%s)-SUM(%s)", cells, cells), value: rows - holds, kind: kind},
		true
}

func blockName(b *live.Block) string {
	if b.Variant != nil {
		return b.Variant.Template.Name
	}
	return b.Scope.Title
}

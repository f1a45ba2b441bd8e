package starter

import (
	"slices"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// sheetGuides are how sheets of definitions are filled in. A guide stands to the right of the table, a column apart and below
// the heading row, so that it is no part of the table: only what stands under a heading is read. The first line is a title.
var sheetGuides = map[string][]string{
	"Processes": {
		"How to write a process of your own",
		"A row defines one quantity of a process. The process then stands under Process in the sheet Operations, as any other.",
		"Process: its name, in each of its rows. all operations, all parts, all machines, ... mean every row of that sheet.",
		"Quantity: a name of your own, or one that piececost reads: load_and_process_time, pieces_per_cycle, consumables_per_piece, power, crew.",
		"Unit: of the quantity, such as s, kg, mm, EUR/kg; 1 for a plain number.",
		"Formula or value: a number, an expression of names, or nothing: then a column of that name in Operations gives it.",
		"A name is a quantity of the same operation, or part.gauge, material.density, machine.rated_force, plant.direct_labour_rate.",
		"In an expression a bare number takes the unit of its row, or that of what it is added to; write a quantity as \"12 mm\".",
		"Quantity check: Formula or value is a condition, and Note says what is wrong where it does not hold; check, error stops the run.",
		"Quantity based on: Formula or value names a process of the library. This one begins as that, and its rows change it.",
		"A process of the library under Process: its rows here change it for every operation that has it.",
		"form: NAME under Process is a form of material for the sheet Parts; it begins as given masses.",
		"piececost processes --functions    lists functions, units and operators, each with an example",
		"piececost processes operation    lists what every operation has; so do part, material, machine, plant",
		"piececost processes --as-sheet \"tube sawing\" FILE    puts a copy of a process here, to be changed",
		"",
		"The ten rows of the example may stay or be cleared: a process whose name begins with example is not read where nothing names it.",
		"To try it, write example gap filling under Process in Operations, and its columns Pad length [mm] and Pad width [mm] there.",
		"",
		"Forces, pressures, temperatures and cycle times are for estimating cost only. They defer to the machine maker, local safety",
		"codes and licensed engineers.",
	},
	"Tables": {
		"How to give a curve",
		"A row is a point of a curve. An expression reads it by  interpolate(curve, x)  , straight between points and level beyond the ends.",
		"Curve: its name, in each of its rows: letters, figures, underscores.",
		"X must rise from row to row. X and Y are numbers, each in the unit beside it; all points of a curve have the same units.",
		"Two points at least. A value that x must have the unit of X; what interpolate gives has the unit of Y.",
		"It may stand in the sheet Processes and in any cell that takes an expression:  interpolate(example_flow, 1.5 * gauge)",
		"",
		"The example may stay or be cleared: a curve whose name begins with example is not read where nothing names it.",
	},
	"Benchmarks": {
		"How to compare with measured parts of others",
		"A row is a part or assembly of another maker: its name, Mass, Size and, where known, Cost per piece. Source: who measured it.",
		"Size: an area, a length or a volume, the same kind in all rows of a part; Size unit: m2, mm2, m, mm, m3, l or the like.",
		"Part: the part that it is compared with, a key of the sheet Parts; empty for the scenario's product.",
		"A row named own gives the size of your own part, measured the same way; a row named after a scenario gives that of this scenario.",
		"Mass and Cost of your own part are computed: leave them empty in such rows.",
		"The scenario comparison shows mass and cost per size, average, lowest, highest, standard deviation, and how far below them each scenario is.",
	},
	"Trial values": {
		"How to say what a trial asks for, and what was measured",
		"A row is of a part: what is asked of it (Direction and Target), what was measured or simulated (Measured), or both. No cost rests on this sheet.",
		"Grade: a key of the sheet Materials; Gauge: of the part. A target may leave them empty: it then holds for all; the more specific row goes before.",
		"A measured value is of one grade at one gauge. It goes before what the program computes or screens.",
		"Quantity: Bending stiffness, Dent resistance or Section strength, which from what was measured in the base are carried over by screening",
		"ratios; a quantity of a part that is computed, as Net mass of this level; or one of your own. Unit: of Target, Measured; 1 for a ratio to the base.",
		"piececost trial FILE --part KEY    tries the part in grades and gauges; a row trial matrix in the sheet Studies makes a sheet of it",
		"",
		"Screening relations verify nothing. Stiffness, dent resistance and strength are shown by simulation and test,",
		"and signed off by licensed engineers.",
	},
	"Tool relations": {
		"How tools without a price are priced",
		"An operation whose Tool kind is filled in and whose Tool price is empty has it built up: hours times a rate, tool steel, standard parts, try-out.",
		"Hours: Base hours, Hours per area of all stages, Hours per stage, Hours per feature. What holds without a row here are placeholders, listed by",
		"piececost processes \"tool: progressive die\"    ; check says what share of the piece cost rests on them.",
		"A row gives one coefficient of one kind of tool: Value in the Unit beside it. A kind of your own needs Toolroom rate, and what else it takes.",
		"State: own or fitted; a row that says replaced is kept for the record and not read.",
		"piececost fit FILE    fits coefficients to the sheet Past tools; with --accept they go here, with their day and the number of tools",
		"",
		"Tool prices are for estimating cost only; a toolmaker's offer decides.",
	},
	"Machine relations": {
		"How machines are priced whose size follows from their operation",
		"A row of Machines whose Sized by is filled in and whose Price is empty costs Base price + Price per size x its size. A row gives one of the two.",
		"Machine: the key of that row. Unit: of Base price the currency, of Price per size EUR/kN, EUR/kW or EUR/mm, by what the row is sized by.",
		"State: own or fitted; a row that says replaced is kept for the record and not read.",
		"piececost fit FILE --of machines    fits both to the sheet Past machines; with --accept they go here, with their day and the number of machines",
		"",
		"Any other relation is an expression in the cell Price itself. Prices are for estimating cost only; a machine maker's offer decides.",
	},
	"Past machines": {
		"What machines have cost",
		"A row is a machine that was bought: the key of the row of Machines whose relation it tells of, its size and its price, for piececost fit.",
		"The size stands in the column of what that row is sized by. Count: how many were bought at the price; empty for one.",
		"Bring old prices to today's before: fit takes them as they stand. No cost rests on this sheet.",
	},
	"Past tools": {
		"What tools have cost",
		"A row is a tool that was bought: its kind, its price and the figures on which the build-up rests, for piececost fit.",
		"Tool face area: of one stage, what is worked to the shape of the part. Tool stages: stages, stations or passes. Tool features: holes, bends,",
		"or places that locate or clamp. Write 0 where it has none. Bring old prices to today's before: fit takes them as they stand.",
		"No cost rests on this sheet. At least one tool more than coefficients are fitted; two or three times as many are better.",
	},
	"Price months": {
		"How to give list prices by month",
		"Material: a key of the sheet Materials. Month: as 2025-03. A month that is missing takes the last earlier one.",
		"A quote's material is brought to the request's Price month by these prices, of the grade that was asked for.",
	},
	"Freight lanes": {
		"How to give what the way costs",
		"From: the Place of a quote. Delivery term: where it differs by term; empty for all. Freight and Truck: per piece, and of a whole truck.",
		"A lane stands in for what a quote does not state, before the Request does.",
	},
	"Negotiation record": {
		"How to keep a record of talks",
		"Quote: a column of the sheet Quotes. Date: as 2025-03-14. What was talked of, where it stood Before and After, in words or numbers.",
		"The rows of a supplier stand in the questions to him, and nowhere else. Nothing is reckoned from them: an amount of a line that is agreed",
		"goes into the column Agreed of Quote lines, a new price or term into the sheet Quotes.",
	},
	"Quote rules": {
		"How to give a rule other bounds",
		"Rule: its name, as r4; piececost quotes --rules lists them. Low, High: in the unit of the rule. Use: no leaves it out.",
		"The bounds that hold without a row here are habits of the trade (common practice, no source).",
	},
}

const guideWidth = 104

// sheetGuide writes the guide of a sheet that has one, to the right of a table of so many columns.
func (b *starter) sheetGuide(l *table.Layout, columns int) error {
	lines := sheetGuides[l.Sheet]
	if lines == nil {
		return nil
	}
	head, err := b.looks.ID(sheet.Look{Kind: "total"})
	if err != nil {
		return err
	}
	text, err := b.looks.ID(sheet.Look{Kind: "text"})
	if err != nil {
		return err
	}
	col := columns + 2
	for i, line := range lines {
		style := text
		if i == 0 {
			style = head
		}
		if err := b.put(l.Sheet, i+2, col, line, style); err != nil {
			return err
		}
	}
	for _, at := range []struct {
		col   int
		width float64
	}{{col, guideWidth}, {col - 1, 3}} { // the last first, as the library wants it
		name, err := excelize.ColumnNumberToName(at.col)
		if err != nil {
			return err
		}
		if err := b.f.SetColWidth(l.Sheet, name, name, at.width); err != nil {
			return err
		}
	}
	return nil
}

// withoutGuide cuts rows to the columns of the headings, beside which a guide may stand.
func withoutGuide(l *table.Layout, rows [][]string) [][]string {
	if sheetGuides[l.Sheet] == nil || len(rows) == 0 {
		return rows
	}
	out := slices.Clone(rows)
	for i, row := range out {
		out[i] = row[:min(len(row), len(rows[0]))]
	}
	return out
}

// OneSheet makes a workbook of one input sheet with rows of texts below its headings, and its guide.
func OneSheet(l *table.Layout, rows [][]string, lib *costmodel.Library) (*excelize.File, error) {
	f := excelize.NewFile()
	b := &starter{f: f, lib: lib, looks: sheet.NewLooks(f), sys: costmodel.UnitsOf(&table.Case{})}
	if err := b.sheet(l, rows); err != nil {
		return nil, err
	}
	return f, f.DeleteSheet("Sheet1")
}

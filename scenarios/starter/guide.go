package starter

import (
	"piececost/costmodel"
	"piececost/scenarios/sheet"
)

const (
	guideSheet = "Read me"
	guideLists = 45 // row above the list of processes
)

// guideText is what the first sheet of a starter workbook says.
var guideText = []string{
	"What this workbook is",
	"A cost model of one product: what each piece costs at each annual volume, step by step. Fill in the sheets, then run",
	"piececost check FILE    finds everything that is wrong",
	"piececost run FILE    costs all scenarios and writes the result sheets",
	"piececost sweep FILE --from 3000 --to 300000 --points 60    piece cost against annual volume",
	"",
	"How to fill it in",
	"One heading row a sheet. The unit stands in brackets in the heading and may be changed to another of the same kind: mm, in; min, s; EUR/kg, EUR/t.",
	"A cell may hold a number, a number with a unit (0.028 in), a formula of the spreadsheet program, or an expression such as  " +
		"scenario.annual_volume > 50000 ? 6.5 : 9",
	"In an expression a bare number takes the unit of its column, or that of what it is compared with or added to; a quantity is written \"5 mm\".",
	"A cell formatted as percent holds a share: 14% is 0.14. In a column [%] a plain 14 means 14 %.",
	"A number that is text is read only where it is plain: 310.000 is 310 to one reader and 310,000 to another, so it is refused. In a formula a " +
		"point is the decimal mark.",
	"A column may be named after any quantity that piececost knows (piececost processes shows them); its cells then override the computed value.",
	"Own sheets, columns and rows are welcome and stay. Columns Source, Date, Owner, Confidence and Note may stand in any table.",
	"A row with an Alternative counts only in scenarios that list it. Scenarios: settings above; below them changes, one a row, with Sheet, Row and Column.",
	"Targets, Benchmarks, Uncertainty and Studies may stay empty: requirements with at most or at least; measured parts of others; low, likely and " +
		"high of an input; and the studies that a run makes",
	"a sheet of: break-even values or parity (an input, or each in turn), least-cost map and two-way table (two inputs), sensitivity, " +
		"scenario comparison (Against is the base), cross-over (From, To), cross-over stability, least-cost combination, trial matrix (a part in Grades",
	"and Gauges, with semicolons between them: 0.7; 0.75; 0.8; what is asked of it and was measured stands in Trial values).",
	"A process that is not in the list below is written into the sheet Processes, a curve into Tables: both sheets say how, with an example.",
	"An operation whose Tool kind is filled in and whose Tool price is empty has its tool priced by the sheet Tool relations, which Past tools can fit.",
	"A grade under its designation (DC04, 1.4301, EN AW-6082-T6) in the sheet Materials, as key or under Grade, needs no density or strength, only " +
		"prices: piececost grades lists them, with how sure each value is.",
	"A cast, moulded or subcontracted part has the form given masses, with Gross mass [kg] and Net mass of this level [kg].",
	"An input is written Sheet/row/column: Materials/M04/Base price, Operations/A01/20/Reject rate, Case/Interest rate, Annual volume.",
	"Quotes: the column Request says what was asked for, a column each what suppliers offered; empty means not stated. Their breakdowns stand in Quote lines.",
	"Quote lines: a row is a line of one piece, in the quote's currency; Quantity is in the line's Unit, Rate for one of it " +
		"(1330 EUR/t is taken as that of the Unit). Element and Amount must be given.",
	"A process line without Operation stands for the whole route; the element tool is outside the sum of the lines. On: what a surcharge is taken on.",
	"piececost import --quote FORM.xlsx FILE --as Q4    takes in a supplier's form; rates of other currencies stand in Currencies, with their date",
	"Machine may stay empty: of the machines with the process under Process class (several with commas; Plant where one stands in some plants only)",
	"the one is taken that passes the checks of the process and costs least a year if it did this operation alone, at the scenario's volume.",
	"A row of Machines whose Sized by is filled in is a price relation: each operation on it has a machine as large as it needs, with the Size reserve, " +
		"rounded up to the",
	"Size series (630, 800, 1000 kN). Price, Footprint and others are then expressions: \"60000 EUR\" + \"400 EUR/kN\" * rated_force, quotation marks too.",
	"Everywhere, Row is the thing and Column its quantity. Row is a key (A01, A01/20, of Plants the plant), a list (A01, B01), * or * except A01.",
	"In a change, base is the unchanged value (base * 1.1).",
	"",
	"Legend",
	"blue on a pale ground, framed: an input",
	"black: words and what is computed",
	"",
	"Caution",
	"Forces, pressures and cycle times are for estimating cost only: not for selecting, setting or guarding machines.",
	"They defer to the machine maker, local safety codes and licensed engineers. Cost results rest on the sources of the inputs.",
}

// guide writes the first sheet.
func (b *starter) guide() error {
	if err := b.f.SetSheetName("Sheet1", guideSheet); err != nil {
		return err
	}
	title, err := b.looks.ID(sheet.Look{Kind: "title"})
	if err != nil {
		return err
	}
	text, err := b.looks.ID(sheet.Look{Kind: "text", Wrap: true})
	if err != nil {
		return err
	}
	marked, err := b.looks.ID(sheet.Look{Kind: "input", Wrap: true})
	if err != nil {
		return err
	}
	if err := b.put(guideSheet, 1, 1, "Scenario workbook", title); err != nil {
		return err
	}
	section := map[string]bool{"What this workbook is": true, "How to fill it in": true, "Legend": true, "Caution": true}
	head, err := b.looks.ID(sheet.Look{Kind: "total"})
	if err != nil {
		return err
	}
	for i, line := range guideText {
		style := text
		switch {
		case section[line]:
			style = head
		case line == "blue on a pale ground, framed: an input":
			style = marked
		}
		if err := b.put(guideSheet, i+3, 1, line, style); err != nil {
			return err
		}
	}
	if err := b.put(guideSheet, guideLists, 1, "Processes (for the drop-down in Operations)", head); err != nil {
		return err
	}
	for i, n := range costmodel.Names(b.lib.Processes) {
		if err := b.put(guideSheet, guideLists+1+i, 1, n, text); err != nil {
			return err
		}
	}
	if err := b.guideGrades(head, text); err != nil {
		return err
	}
	if err := b.f.SetColWidth(guideSheet, "A", "A", 110); err != nil {
		return err
	}
	return sheet.PrintSetup(b.f, guideSheet, false, 0)
}

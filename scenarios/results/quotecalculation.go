package results

import (
	"fmt"

	"piececost/costmodel"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

const quoteCalcNote = "Green: links to the input sheets and to other blocks; black: formulas; slanted on a pale ground: numbers that the program found at " +
	"the run and no formula follows. Money of a quote is in its own currency until it is multiplied by the table rate. Above each heading: source, " +
	"formula in words, unit."

// columnsAPage is how many columns of the calculation of quotes stand on a page in print.
const columnsAPage = 20

// calculateQuotes writes the live calculation of the quotes.
func (b *writer) calculateQuotes() error {
	if b.quotes == nil {
		return nil
	}
	widest := 0
	for _, block := range b.quotes.Blocks {
		widest = max(widest, len(block.Columns))
	}
	w := &calcWriter{writer: b, sheet: b.quotes, wide: (widest + columnsAPage - 1) / columnsAPage}
	if err := b.calculationPage(w, "Quotes, step by step", quoteCalcNote); err != nil {
		return err
	}
	for _, at := range b.result.Quotes.Rests {
		b.inputs.Unfollowed(at)
	}
	return nil
}

// A chainCheck is a quote's chain as Quotes on equal terms shows it: the squares of what its rows are off by.
type chainCheck struct{ quote, formula string }

// quoteChecks are the checks of the quotes: rows moved, the chain as shown against its end, the conditions on what was asked for.
func (b *writer) quoteChecks() []checkLine {
	if b.quotes == nil {
		return nil
	}
	s := b.quotes
	lines := []checkLine{{what: "Columns of the sheet Quotes and rows of Quote lines moved since the run",
		formula: fmt.Sprintf("SUM(%s!$C$1:$C$%d)", live.QuoteSheet(s.Name), s.Blocks[len(s.Blocks)-1].Last()), kind: "run again"}}
	for _, c := range b.chainChecks {
		lines = append(lines, checkLine{what: "Quotes on equal terms as shown, " + c.quote + ": each step against the one above, squares", formula: c.formula,
			allowed: 1e-10, kind: "error"})
	}
	for _, block := range s.Blocks {
		if block.Scope.Name == "case" {
			continue
		}
		for _, c := range block.Columns {
			if l, ok := b.conditionCheck(s, block, c); ok {
				lines = append(lines, l)
			}
		}
	}
	for i := range lines {
		lines[i].scenario = "Quotes"
	}
	return lines
}

// quoteMethods lists the equations of the quotes and returns the last row.
func (b *writer) quoteMethods(p *sheet.Page, row int) int {
	for _, block := range b.quotes.Blocks {
		if block.Scope.Name == "case" {
			continue // as for the scenarios
		}
		for _, d := range b.quotes.Used(block) {
			row++
			b.methodRow(p, row, block.Scope.Title, d)
		}
	}
	return row
}

// quoteRef is a quantity of a quote's row, or of one of its lines, in the calculation of the quotes.
func (b *writer) quoteRef(e costmodel.Entry, name string) live.Ref {
	return b.quotes.Ref(e.Entity(), name)
}

// requested is the annual volume asked for.
func (b *writer) requested() live.Ref {
	return b.quoteRef(b.result.Quotes.Detail.Entries("request")[0], "annual_volume")
}

// quoteMoney is the format of amounts of a quoted piece: below 1 it shows two decimals more.
func (b *writer) quoteMoney() string {
	for _, o := range b.result.Quotes.Offers {
		if v, ok := o.Entry.Value("price_in_model_currency"); ok && v < 1 {
			return sheet.CentFormat
		}
	}
	return sheet.MoneyFormat
}

// quoteTitle is how a quote is called on the sheets: its column, and its supplier.
func quoteTitle(name, supplier string) string {
	if supplier == "" || supplier == name {
		return name
	}
	return name + ", " + supplier
}

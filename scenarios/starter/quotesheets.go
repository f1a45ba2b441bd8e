package starter

import (
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// The sheets of quotes hold what templates/quotes asks for: their rows, notes and lists come from there.

// quoteScopes are the scopes whose words and inputs a sheet holds, in the order in which a name is looked up.
var quoteScopes = map[string][]string{"Quotes": {"quote", "request"}, "Quote lines": {"quote line"}, "Freight lanes": {"quote"}}

const (
	asTyped    = "@" // 1-2 stays what it is, and becomes no date
	lastChoice = 26  // column up to which rows of the sheet Quotes have their lists: those of quotes that are added too
)

func isQuotes(l *table.Layout) bool { return quoteScopes[l.Sheet] != nil }

// isTyped tells the columns whose cells a spreadsheet program would take for dates, or for a number with noughts at its end.
func isTyped(sheet, name string) bool {
	return sheet == "Quote lines" && name == "on" || sheet == "Materials" && name == gradeHeading
}

// quotes is the library of quotes. A program without it fails when it reads its own templates, long before.
func (b *starter) quotes() *costmodel.QuoteLibrary {
	lib, err := b.lib.Quotes()
	if err != nil {
		panic(err)
	}
	return lib
}

// describe finds the definition of a quantity of a sheet, nil where it is none.
func (b *starter) describe(l *table.Layout, name string) *costmodel.Item {
	for _, scope := range quoteScopes[l.Sheet] {
		if it := b.quotes().Describe(scope, name); it != nil {
			return it
		}
	}
	return b.lib.Describe(l.Scope, name)
}

// noteOf is what is said of a quantity at its heading or row.
func (b *starter) noteOf(l *table.Layout, name string) string {
	for _, scope := range quoteScopes[l.Sheet] {
		if note := b.quotes().NoteOf(scope, name); note != "" {
			return note
		}
	}
	if it := b.lib.Describe(l.Scope, name); it != nil {
		return it.Sentence()
	}
	if l.Sheet == "Materials" && name == gradeHeading {
		return gradeNote
	}
	return ""
}

func (b *starter) isQuoteWord(l *table.Layout, name string) bool {
	for _, scope := range quoteScopes[l.Sheet] {
		if _, ok := b.quotes().Word(scope, name); ok && !isCount(l, name) {
			return true
		}
	}
	return false
}

// withQuoteRows gives a sheet Quotes that has its headings only all rows that it may state, with their units. A plain number has none.
func (b *starter) withQuoteRows(l *table.Layout, rows [][]string) ([][]string, error) {
	if l.Sheet != "Quotes" || len(rows) != 1 {
		return rows, nil
	}
	lib, err := b.lib.Quotes()
	if err != nil {
		return nil, err
	}
	for _, name := range lib.SheetRows() {
		row := make([]string, len(rows[0]))
		for _, scope := range quoteScopes[l.Sheet] {
			if !lib.Asks(scope, name) {
				continue
			}
			row[0] = lib.Label(scope, name)
			if it := lib.Describe(scope, name); it != nil && it.Unit != "1" && len(it.Options) == 0 {
				row[1] = it.Unit
			}
			break
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// quoteChoices are the words that a column of the sheets of quotes takes beside those of its declaration.
func (b *starter) quoteChoices(l *table.Layout, name string) []string {
	switch l.Sheet + "/" + name {
	case "Quote lines/directed", "Quote rules/use":
		return []string{"yes", "no"}
	case "Quote rules/rule":
		var names []string
		for _, r := range b.quotes().Rules {
			names = append(names, r.Name)
		}
		if len(strings.Join(names, ",")) < 250 {
			return names
		}
	}
	return nil
}

// choiceRows gives the rows of the sheet Quotes that take a choice their lists, in the columns of quotes that are added too.
func (b *starter) choiceRows(l *table.Layout, head []string, rows [][]string) error {
	from, to := valueColumns(head)
	for r, row := range rows[1:] {
		name, _ := rowQuantity(l, head, row)
		it := b.describe(l, name)
		if from == 0 || it == nil || len(it.Options) == 0 {
			continue
		}
		first, err := excelize.CoordinatesToCellName(from, r+2)
		if err != nil {
			return err
		}
		last, err := excelize.CoordinatesToCellName(max(to, lastChoice), r+2)
		if err != nil {
			return err
		}
		dv := excelize.NewDataValidation(true)
		dv.SetSqref(first + ":" + last)
		if err := dv.SetDropList(it.Options); err != nil {
			return err
		}
		dv.SetError(excelize.DataValidationErrorStyleWarning, it.Label, "Not one of the listed words.")
		if err := b.f.AddDataValidation(l.Sheet, dv); err != nil {
			return err
		}
	}
	return nil
}

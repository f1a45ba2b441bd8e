package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/table"
)

// An input is written Sheet, Row, Column everywhere: Row names the thing, Column the quantity, whichever way round the sheet
// itself lies. Of the sheets whose columns are the things, Row and Column were once the sheet's own; that order is still
// read where the words can mean nothing else.

// wordOrder tells how two words name a thing and a quantity.
type wordOrder uint8

const (
	thingFirst    wordOrder = iota // Row is the thing, Column the quantity
	quantityFirst                  // the older order
	eitherWay                      // both words are both
)

// orderOf tells in which order two words name a thing and a quantity of a sheet. Where they do in neither, the word that
// is known decides, so that the other is what is reported.
func (m *Model) orderOf(l *table.Layout, row, column string) wordOrder {
	if l.Shape != table.ColumnsAre || l.Scope == "scenario" {
		return thingFirst
	}
	rowThing, columnThing := m.namesThing(l, row), m.namesThing(l, column)
	rowQuantity, columnQuantity := m.namesQuantity(l, row), m.namesQuantity(l, column)
	first, second := rowThing && columnQuantity, columnThing && rowQuantity
	if l.Sheet == "Case" { // it has one thing, and any word stood for it
		second = rowQuantity && !columnQuantity
	}
	switch {
	case first && second && strings.TrimSpace(row) != strings.TrimSpace(column):
		return eitherWay
	case first:
		return thingFirst
	case second:
		return quantityFirst
	case rowThing || columnQuantity:
		return thingFirst
	case rowQuantity || columnThing && strings.TrimSpace(row) != "":
		return quantityFirst
	}
	return thingFirst
}

// inOrder returns the cells of Row and Column, the thing and then the quantity.
func (m *Model) inOrder(l *table.Layout, row, column table.Value) (thing, quantity table.Value) {
	if m.orderOf(l, cellText(row), cellText(column)) != quantityFirst {
		return row, column
	}
	if l.Sheet == "Case" {
		column = table.Value{Place: column.Place}
	}
	return column, row
}

// namesThing tells whether a word selects rows of a sheet; of the sheet Case, no word and that of its column do.
func (m *Model) namesThing(l *table.Layout, text string) bool {
	text = strings.TrimSpace(text)
	if l.Sheet == "Case" && text == "" {
		return true
	}
	return len(m.recordsMatching(l.Scope, text)) > 0
}

func (m *Model) namesQuantity(l *table.Layout, text string) bool {
	name, _, _ := table.SplitHeading(text)
	_, ok := m.Schema.byName[l.Scope].byHeading(name)
	return ok
}

// exchangedHelp says what to do where Row and Column of a sheet that is read in one order only are the wrong way round;
// empty where they are not.
func (m *Model) exchangedHelp(l *table.Layout, row, column string) string {
	if !m.namesQuantity(l, row) || column == "" || !m.namesThing(l, column) {
		return ""
	}
	return fmt.Sprintf("exchange the two: the key %s first, then the quantity %s", strings.TrimSpace(column), strings.TrimSpace(row))
}

package quote

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A Talk is a row of the sheet Negotiation record: what was talked of with a supplier, where it stood before and after.
type Talk struct{ Date, What, Before, After string }

// talks are the rows of the sheet Negotiation record of each quote, in the order of the sheet. What can't be read is reported at its cell.
func talks(q *costmodel.Quotes, ds *table.Diagnostics) map[*costmodel.Quote][]Talk {
	out := map[*costmodel.Quote][]Talk{}
	t := q.Model.Case.Table("Negotiation record")
	if t == nil {
		return out
	}
	for _, row := range t.Rows {
		name := t.TextAt(row, "quote")
		talk := Talk{Date: dayOf(t.ValueAt(row, "date")), What: t.TextAt(row, "what"), Before: shownText(t.ValueAt(row, "before"), ""),
			After: shownText(t.ValueAt(row, "after"), "")}
		if name == "" && talk == (Talk{}) {
			continue
		}
		of := q.Called(name)
		if of == nil {
			ds.Warn("reference", placeOr(t, row, "quote"), fmt.Sprintf("quote %q is not in the sheet Quotes", table.Shortened(name)), q.Listed())
			continue
		}
		if _, ok := parseDate(talk.Date); !ok {
			ds.Warn("date", placeOr(t, row, "date"), fmt.Sprintf("Date of the record of %s: %q is no date", of.Key, table.Shortened(talk.Date)),
				"write it as 2025-03-14")
			continue
		}
		out[of] = append(out[of], talk)
	}
	return out
}

// placeOr is the place of a cell, of the row's first where it is empty.
func placeOr(t *table.Table, row table.Row, column string) table.Place {
	if v := t.ValueAt(row, column); v.Place.Row != 0 {
		return v.Place
	}
	return table.Place{File: t.Place.File, Sheet: t.Sheet, Row: row.Number, Col: 1}
}

// dayOf is a date as it was typed, without the hour that a spreadsheet may keep.
func dayOf(v table.Value) string {
	text := shownText(v, "")
	if _, ok := parseDate(text); ok {
		return strings.TrimSpace(text)[:10]
	}
	return text
}

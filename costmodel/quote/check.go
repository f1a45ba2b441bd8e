package quote

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// Check finds what is wrong with the quotes of a case, each at its cell, without costing anything: the findings of ReadQuotes, dates and
// months, parts, scenarios and plants that are not there, and the sheets Price months, Freight lanes and Quote rules.
func Check(q *costmodel.Quotes) table.Diagnostics {
	ds := append(table.Diagnostics(nil), q.Diagnostics...)
	if len(q.Quotes) == 0 {
		return ds
	}
	checkWords(q, &ds)
	ds = append(ds, references(q).AsWarnings()...)
	f := &factReader{quotes: q}
	f.checkBases(&ds)
	readMonths(q, &ds)
	readLanes(q, &ds)
	f.readBounds(&ds)
	talks(q, &ds)
	return ds.Sorted()
}

// checkWords reports dates and months that can't be read.
func checkWords(q *costmodel.Quotes, ds *table.Diagnostics) {
	records := []*costmodel.Record{q.Request}
	for _, o := range q.Quotes {
		records = append(records, o.Record)
	}
	for _, r := range records {
		for _, w := range q.Library.Words[r.Scope] {
			text := r.Text(w.Name)
			if text == "" {
				continue
			}
			_, isDate := parseDate(text)
			_, isMonth := parseMonths(text)
			switch {
			case w.Kind == "date" && !isDate:
				ds.Add("date", r.TextPlace(w.Name), fmt.Sprintf("%s of %s: %q is no date", table.Label(w.Name), r.Key, table.Shortened(text)),
					"write it as 2025-03-14")
			case w.Kind == "month" && !isMonth:
				ds.Add("month", r.TextPlace(w.Name), fmt.Sprintf("%s of %s: %q is no month", table.Label(w.Name), r.Key, table.Shortened(text)),
					"write it as 2025-03, or a quarter as 2025-Q1")
			}
		}
	}
}

// references finds parts, scenarios, plants and grades that are not in the case: what rests on the model is then left out, and the rest of the
// quotes still holds.
func references(q *costmodel.Quotes) (ds table.Diagnostics) {
	if q.Model.Diagnostics.HasErrors() { // of which these would follow
		return nil
	}
	refer := func(key, scope string, at table.Place) {
		if d := q.ReferenceError(key, scope); d != nil {
			ds.Add("reference", at, d.Summary, d.Help)
		}
	}
	for _, o := range q.Quotes {
		part, at := partOf(q, o)
		scenarioFor(q, part, at, &ds)
		refer(o.Text("plant"), "plant", o.TextPlace("plant"))
		for _, l := range o.Lines {
			refer(l.Text("part"), "part", l.TextPlace("part"))
		}
	}
	if t := q.Model.Case.Table("Price months"); t != nil {
		for _, row := range t.Rows {
			refer(t.TextAt(row, "material"), "material", t.ValueAt(row, "material").Place)
		}
	}
	return ds
}

// checkBases warns of surcharges that are taken on what the quote does not have.
func (f *factReader) checkBases(ds *table.Diagnostics) {
	for _, q := range f.quotes.Quotes {
		for _, l := range q.Lines {
			if on := l.Text("on"); on != "" && len(q.Lines) > 0 && !anyOf(f.baseOf(q, on)) {
				ds.Warn("reference", l.TextPlace("on"), fmt.Sprintf("On of line %s: %q names no line and no element of the quote", l.Key, table.Shortened(on)),
					"write lines as 1-2,4, or elements as material, process")
			}
		}
	}
}

func anyOf(lines map[*costmodel.Record]bool) bool {
	for _, in := range lines {
		if in {
			return true
		}
	}
	return false
}

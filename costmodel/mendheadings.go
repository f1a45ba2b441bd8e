package costmodel

import (
	"fmt"
	"slices"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

// A heading that is nearly a word of its sheet is one mistake: it is said once, at the heading, and the column is read as what
// was meant, so that nothing is said of what would follow from it. With the error nothing is computed.

// sayMisspelt reports a heading that is nearly a known word.
func (m *Model) sayMisspelt(c table.Column, near string) {
	m.Diagnostics.Add("heading", c.Place, fmt.Sprintf("heading %q is not known", c.Heading),
		fmt.Sprintf("did you mean %s? If the column is your own, give it a name less alike", table.Label(near)))
}

// saysItself are the sheets that no cost rests on, which report their own headings as they are asked for.
var saysItself = []string{"Targets", "Uncertainty", "Studies", "Overrides"}

// mendHeadings reports headings that are nearly the words of their sheet, where these are not there, and goes on with a case
// in which they are put right. The case that was given is not changed. Quantities of a sheet are looked at where it is read.
func (m *Model) mendHeadings() {
	var tables []*table.Table
	for i, t := range m.Case.Tables {
		l := table.LayoutOf(t.Sheet)
		if l == nil || l.Unread || contains(saysItself, l.Sheet) || l.Shape == table.RowsAre && l.Scope != "" {
			continue
		}
		mended := m.mended(l, t)
		if mended == nil {
			continue
		}
		if tables == nil {
			tables = slices.Clone(m.Case.Tables)
		}
		tables[i] = mended
	}
	if tables != nil {
		m.Case = &table.Case{File: m.Case.File, Tables: tables}
	}
}

// mended is a table with its headings put right, nil where they are.
func (m *Model) mended(l *table.Layout, t *table.Table) *table.Table {
	var out *table.Table
	words := slices.Clone(l.Key)
	if l.Shape == table.RowsAre && l.Sheet != "Processes" { // whose other headings have several names
		words = append(append(words, l.Texts...), l.Columns...)
	}
	words = slices.DeleteFunc(words, func(w string) bool { _, have := t.Column(w); return have })
	for i, c := range t.Columns {
		name, unit, bracket := table.SplitHeading(c.Heading)
		if name == "" || contains(l.Key, name) || contains(l.Texts, name) || contains(l.Columns, name) || table.IsProvenance(name) {
			continue
		}
		near := formula.Nearest(name, words)
		if near == "" {
			continue
		}
		m.sayMisspelt(c, near)
		words = slices.DeleteFunc(words, func(w string) bool { return w == near })
		if out == nil {
			copied := *t
			copied.Columns = slices.Clone(t.Columns)
			out = &copied
		}
		out.Columns[i].Heading = table.Label(near)
		if !bracket && near == "annual_volume" {
			unit, bracket = "1/yr", true
		}
		if bracket {
			out.Columns[i].Heading += " [" + unit + "]"
		}
	}
	return out
}

// meantColumn is what a misspelt heading of a sheet of things is read as. Its unit was said to be wrong with the rest.
func (m *Model) meantColumn(l *table.Layout, sc *Scope, near, unit string) columnUse {
	if n, ok := sc.byHeading(near); ok && !contains(l.Key, near) && !contains(l.Texts, near) {
		q := sc.Quantities[n]
		u, err := m.Schema.Units.Parse(unit)
		if err != nil || u.Dim != q.Unit.Dim || unit == "" {
			u = q.Unit
		}
		return columnUse{name: q.Name, quantity: n, unit: u}
	}
	return columnUse{name: near, text: true, quantity: -1}
}

// neededTexts are columns of words without which no row of a sheet means anything.
var neededTexts = map[string][]string{"Parts": {"form"}, "Operations": {"process", "machine"}}

// lacks tells whether a column of words is missing altogether, which is said once and not in every row.
func (m *Model) lacks(scope, column string) bool { return contains(m.lacking[scope], column) }

// unreadable notes that the rows of a scope could not be told apart, or are not there: what names one of them is not
// reported as well.
func (m *Model) unreadable(scope string) {
	if scope != "" {
		m.unread[scope] = true
	}
}

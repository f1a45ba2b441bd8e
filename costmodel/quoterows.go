package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

// A statedUnit is the unit of a row or column as it is written, and where.
type statedUnit struct {
	text  string
	place table.Place
}

// rowQuantity finds the quantity that a row of the sheet Quotes gives a scope; what the program reads by itself is none.
func (q *Quotes) rowQuantity(scope, name string) (int32, bool) {
	sc := q.inner.Schema.byName[scope]
	n, ok := sc.byHeading(name)
	if !ok || sc.Variants[0].Definitions[n] != nil && sc.Variants[0].Definitions[n].Item.Fact {
		return 0, false
	}
	return n, true
}

// isRow tells whether a name is that of a row, in the column Request or in that of a quote.
func (q *Quotes) isRow(name string) bool {
	for _, scope := range []string{"request", "quote"} {
		if _, ok := q.rowQuantity(scope, name); ok || slices.ContainsFunc(q.Library.Words[scope], func(w Word) bool { return w.Name == name }) {
			return true
		}
	}
	return strings.HasPrefix(name, "price_at_")
}

// meantRow says of a row that is nearly known which it may be, and reads it as that where the sheet has none, so that nothing is said of what
// would follow; any other is the user's own.
func (q *Quotes) meantRow(t *table.Table, key table.Value, name string, columns map[int]*Record) string {
	if q.isRow(name) || len(columns) == 0 {
		return name
	}
	near := formula.Nearest(name, q.rowNames())
	if near == "" {
		q.Diagnostics.Warn("key", key.Place, fmt.Sprintf("%q is not read", table.Shortened(key.Text)), "it is kept as it stands")
		return name
	}
	q.Diagnostics.Add("key", key.Place, fmt.Sprintf("%q is not known", table.Shortened(key.Text)),
		fmt.Sprintf("did you mean %s? If the row is your own, give it a name less alike", table.Label(near)))
	for _, row := range t.Rows {
		if other, _, _ := table.SplitHeading(t.TextAt(row, "quantity")); other == near {
			return name
		}
	}
	return near
}

// rowNames are the names and labels of all rows that the sheet may have.
func (q *Quotes) rowNames() []string {
	names := []string{"currency"}
	for _, scope := range []string{"request", "quote"} {
		for _, w := range q.Library.Words[scope] {
			names = append(names, w.Name)
		}
		for _, it := range q.Library.template(scope).Items {
			if it.Input && !it.Fact {
				names = append(names, it.Name, table.Normalise(it.Label))
			}
		}
	}
	return names
}

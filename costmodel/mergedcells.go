package costmodel

import (
	"fmt"

	"piececost/costmodel/table"
)

// joinedCells refuses merged cells of several rows in a column that a cost may rest on: the file holds their value once, so
// that a program that reads it, this one among them, finds the lower rows empty.
func (m *Model) joinedCells(l *table.Layout, t *table.Table) {
	for _, g := range t.Joined {
		for _, c := range t.Columns {
			if c.Place.Col == g.Place.Col && m.matters(l, c.Heading) {
				m.Diagnostics.Add("merged", g.Place,
					fmt.Sprintf("the cells %s under %s are merged, and the file holds their value in the first alone", g.Range,
						table.Shortened(c.Heading)), "unmerge them and write the value in every row that it holds for")
				if name, _, _ := table.SplitHeading(c.Heading); contains(l.Key, name) {
					m.unreadable(l.Scope) // which rows there are is not known
				}
			}
		}
	}
}

package costmodel

import (
	"maps"

	"piececost/costmodel/table"
)

// A LeftOut is a row of an alternative that has an error, so that no combination may have it.
type LeftOut struct {
	record  *Record
	Row     string // "step A01/20"
	Tags    []string
	Finding table.Diagnostic // the first one
}

// ForCombining is the model with the errors set aside that stand in rows of alternatives no scenario counts: what rests on
// such a row can't be costed, the rest can. They come back as warnings; the others are still among its Diagnostics. Without
// such errors it is the model itself.
func (m *Model) ForCombining() (*Model, []LeftOut, table.Diagnostics) {
	left, _ := m.brokenRows(m.Diagnostics, nil)
	if len(left) == 0 {
		return m, nil, nil
	}
	var aside table.Diagnostics
	own := *m
	own.broken, own.Diagnostics = map[*Record]bool{}, nil
	for _, l := range left {
		own.broken[l.record] = true
	}
	at := m.alternativesByRow()
	for _, d := range m.Diagnostics {
		if d.Severity == table.Error && d.Code != "duplicate" && own.broken[at[rowOf(d.RowPlace())].Record] {
			aside = append(aside, d)
		} else {
			own.Diagnostics = append(own.Diagnostics, d)
		}
	}
	return &own, left, aside.AsWarnings()
}

// sheetRow is a row of a sheet.
type sheetRow struct {
	sheet string
	row   int
}

// tagged is a row with tags and what it is to a person.
type tagged struct {
	*Record
	row string
}

func rowOf(p table.Place) sheetRow { return sheetRow{p.Sheet, p.Row} }

// alternativesByRow finds the rows with tags that no scenario counts.
func (m *Model) alternativesByRow() map[sheetRow]tagged {
	out := map[sheetRow]tagged{}
	for _, of := range taggedScopes {
		for _, r := range m.records[of.scope] {
			if r.Text("alternative") != "" && !m.countsSomewhere(r) {
				out[sheetRow{r.Sheet, r.Row}] = tagged{r, of.noun + " " + r.Key}
			}
		}
	}
	return out
}

// brokenRows finds the rows of alternatives at which errors stand, those known aside; all is false where an error stands
// elsewhere. Of two rows with the same key and tag nobody knows which is meant, so that stays an error.
func (m *Model) brokenRows(ds table.Diagnostics, known map[*Record]bool) (left []LeftOut, all bool) {
	at := m.alternativesByRow()
	seen := maps.Clone(known)
	if seen == nil {
		seen = map[*Record]bool{}
	}
	all = true
	for _, d := range ds {
		if d.Severity != table.Error {
			continue
		}
		r := at[rowOf(d.RowPlace())]
		if r.Record == nil || d.Code == "duplicate" {
			all = false
		} else if !seen[r.Record] {
			seen[r.Record] = true
			left = append(left, LeftOut{r.Record, r.row, splitList(r.Text("alternative")), d})
		}
	}
	return left, all
}

// Combiner prepares the combinations of a scenario's alternatives. A row of an alternative that has an error is left out
// with every combination that would have it (LeftOut), unless a scenario counts it; any other error is an error here.
func (m *Model) Combiner(s *Scenario) (*Combiner, table.Diagnostics) {
	broken := maps.Clone(m.broken)
	if broken == nil {
		broken = map[*Record]bool{}
	}
	var out []LeftOut
	var warnings table.Diagnostics
	for {
		c, ds := m.combiner(s, broken)
		if c != nil {
			unplaced := c.union.unplaced()
			c.left = append(out, unplaced...)
			for _, l := range unplaced {
				warnings = append(warnings, l.Finding)
			}
			return c, append(warnings, ds...)
		}
		left, all := m.brokenRows(ds, broken)
		if len(left) == 0 || !all {
			return nil, ds
		}
		for _, l := range left {
			broken[l.record] = true
		}
		out = append(out, left...)
		warnings = append(warnings, ds.Errors().AsWarnings()...)
	}
}

// LeftOut lists the rows of alternatives that were found to have an error when all were put together; those of ForCombining
// are known before.
func (c *Combiner) LeftOut() []LeftOut { return c.left }

// bar notes the tags of broken rows that belong to no part, so that no rule of a combination meets them.
func (b *unionBuilder) bar() {
	for _, of := range [][2]string{{"link", "parent"}, {"operation", "part"}} {
		for _, r := range b.model.records[of[0]] {
			_, numbered := stepNumber(r.Text("operation"))
			if !b.broken[r] || len(b.model.byKey["part"][r.Text(of[1])]) > 0 && (numbered || of[0] == "link") {
				continue
			}
			for _, t := range b.tagsOf(r) {
				b.barred[t] = true
			}
		}
	}
}

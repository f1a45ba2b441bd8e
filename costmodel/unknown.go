package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/table"
)

// unknownCode is the code of findings of sheets, columns and rows that are not read.
const unknownCode = "unknown"

// unknown says which sheets of ours are not read yet, and once a sheet which of its columns and rows are not. A column may
// well be the user's own, so that is a note; a warning on sheets that hold nothing but definitions.
func (m *Model) unknown() {
	said := map[table.Place]bool{}
	for _, d := range m.Diagnostics {
		said[d.Place] = true
	}
	for i := range table.Layouts {
		l := &table.Layouts[i]
		t := m.Case.Table(l.Sheet)
		switch {
		case t == nil:
		case l.Sheet == "Quotes": // each column is a quote; what is wrong with its rows is said by ReadQuotes
		case l.Unread:
			if len(t.Rows) > 0 {
				m.Diagnostics.Warn(unknownCode, t.Place, fmt.Sprintf("the sheet %s is not read: no result rests on it", l.Sheet),
					"keep it for later, or rename it if it is your own")
			}
		case l.Shape == table.ColumnsAre && l.Scope != "scenario":
			m.unknownRows(l, t, said)
		default:
			m.unknownColumns(l, t, said)
		}
	}
}

func (m *Model) unknownColumns(l *table.Layout, t *table.Table, said map[table.Place]bool) {
	var names []string
	at := t.Place
	for i, c := range t.Columns {
		name, _, _ := table.SplitHeading(c.Heading)
		if name == "" || said[c.Place] || m.knownColumn(l, name, c.Heading) {
			continue
		}
		if l.Scope == "scenario" && !filledColumn(t, i) {
			continue
		}
		if names = append(names, c.Heading); len(names) == 1 {
			at = c.Place
		}
	}
	switch {
	case len(names) == 0:
	case l.Scope == "scenario":
		m.Diagnostics.Warn(unknownCode, at, fmt.Sprintf("%s of the sheet %s: no scenario, so not read", columnsNamed(names), l.Sheet),
			"a scenario has a Product and an Annual volume [1/yr]")
	case l.Scope != "":
		m.note(at, fmt.Sprintf("%s of the sheet %s: not read", columnsNamed(names), l.Sheet),
			"`piececost processes` lists what a column may be called; your own columns may stay")
	case l.Sheet == "Processes" || l.Sheet == "Tables" || l.Sheet == "Currencies": // results rest on every cell of these
		m.Diagnostics.Warn(unknownCode, at, fmt.Sprintf("%s of the sheet %s: not read", columnsNamed(names), l.Sheet), "its columns are "+
			strings.Join(labelsOf(l), ", "))
	default:
		m.note(at, fmt.Sprintf("%s of the sheet %s: not read", columnsNamed(names), l.Sheet), "its columns are "+strings.Join(labelsOf(l), ", ")+
			"; your own columns may stay")
	}
}

// knownColumn tells whether a heading means something on a sheet.
func (m *Model) knownColumn(l *table.Layout, name, heading string) bool {
	if contains(l.Key, name) || contains(l.Texts, name) || contains(l.Columns, name) || table.IsProvenance(name) {
		return true
	}
	if l.Scope == "scenario" || l.Sheet == "Targets" {
		for _, s := range m.Scenarios {
			if strings.EqualFold(s.Name, strings.TrimSpace(heading)) {
				return true
			}
		}
		return l.Scope == "scenario" && name == "unit"
	}
	scope := l.Scope
	if l.Sheet == pastTools {
		scope = "operation"
	}
	if l.Sheet == pastMachines {
		scope = machineScope
	}
	if scope == "" {
		return false
	}
	_, ok := m.Schema.byName[scope].byHeading(name)
	return ok
}

func filledColumn(t *table.Table, i int) bool {
	for _, row := range t.Rows {
		if row.Cells[i].Kind != table.Empty {
			return true
		}
	}
	return false
}

// unknownRows looks at a sheet on which a row is a quantity.
func (m *Model) unknownRows(l *table.Layout, t *table.Table, said map[table.Place]bool) {
	sc := m.Schema.byName[l.Scope]
	var names []string
	at := t.Place
	for _, row := range t.Rows {
		k := t.ValueAt(row, "quantity")
		name, _, _ := table.SplitHeading(k.Text)
		if _, ok := sc.byHeading(name); ok || name == "" || said[k.Place] || contains(caseTexts, name) {
			continue
		}
		if names = append(names, k.Text); len(names) == 1 {
			at = k.Place
		}
	}
	if len(names) > 0 {
		m.note(at, fmt.Sprintf("%s of the sheet %s: not read", wordsNamed("row", names), l.Sheet), "`piececost processes "+l.Scope+
			"` lists what a row may be called; your own rows may stay")
	}
}

func (m *Model) note(at table.Place, summary, help string) {
	m.Diagnostics.Keep(table.Diagnostic{Code: unknownCode, Severity: table.Note, Place: at, Summary: table.Brief(summary), Help: table.Brief(help)})
}

func columnsNamed(names []string) string { return wordsNamed("column", names) }

// wordsNamed writes `column "A"`, `columns "A", "B" and 3 more`.
func wordsNamed(noun string, names []string) string {
	if len(names) > 1 {
		noun += "s"
	}
	var quoted []string
	for _, n := range names[:min(len(names), mostKeys)] {
		quoted = append(quoted, fmt.Sprintf("%q", n))
	}
	text := noun + " " + strings.Join(quoted, ", ")
	if more := len(names) - len(quoted); more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// labelsOf lists the columns of a sheet as a person writes them.
func labelsOf(l *table.Layout) []string {
	var out []string
	for _, list := range [][]string{l.Key, l.Texts, l.Columns} {
		for _, name := range list {
			if label := table.Label(name); !contains(out, label) {
				out = append(out, label)
			}
		}
	}
	return out
}

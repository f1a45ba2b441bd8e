package costmodel

import (
	"slices"
	"strings"

	"piececost/costmodel/table"
)

// The sheets Processes and Tables of a new workbook hold an example each, to be tried, changed or cleared. A process or curve whose
// name begins with the word example is therefore read only where something else of the case names it: nothing is costed for it,
// and nothing is said of it.

// exampleKeys are the columns that name what a row of these sheets belongs to.
var exampleKeys = map[string]string{"Processes": "process", "Tables": "curve"}

// isExample tells whether the name of a process, form or curve begins with the word example.
func isExample(name string) bool {
	name, _ = formName(name)
	key := table.Normalise(name)
	return key == "example" || strings.HasPrefix(key, "example_")
}

// setExamplesAside goes on with a case without the examples that nothing names. The case that was given is not changed; the
// rows are kept, since they fill cells of their columns (CellsRead).
func (m *Model) setExamplesAside() {
	if !slices.ContainsFunc(m.Case.Tables, func(t *table.Table) bool { return len(exampleRows(t)) > 0 }) {
		return
	}
	mentioned := map[string]bool{}
	for _, t := range m.Case.Tables {
		examples := exampleRows(t)
		for i, row := range t.Rows {
			if !examples[i] {
				mentionExamples(row, mentioned)
			}
		}
	}
	m.aside = map[string][]table.Row{}
	tables := slices.Clone(m.Case.Tables)
	for _, sheet := range []string{"Processes", "Tables"} { // a process that is used may name a curve
		for i, t := range tables {
			if t.Sheet == sheet {
				tables[i] = m.withoutExamples(t, mentioned)
			}
		}
	}
	m.Case = &table.Case{File: m.Case.File, Tables: tables}
}

// withoutExamples is a table without the rows of examples that are not mentioned; what the others mention is added.
func (m *Model) withoutExamples(t *table.Table, mentioned map[string]bool) *table.Table {
	examples := exampleRows(t)
	out := *t
	out.Rows = nil
	for i, row := range t.Rows {
		name, _ := formName(t.TextAt(row, exampleKeys[t.Sheet]))
		if examples[i] && !mentioned[table.Normalise(name)] {
			m.aside[t.Sheet] = append(m.aside[t.Sheet], row)
			continue
		}
		if examples[i] {
			mentionExamples(row, mentioned)
		}
		out.Rows = append(out.Rows, row)
	}
	return &out
}

// exampleRows are the numbers of the rows of a table that belong to examples.
func exampleRows(t *table.Table) map[int]bool {
	key := exampleKeys[t.Sheet]
	if key == "" {
		return nil
	}
	out := map[int]bool{}
	for i, row := range t.Rows {
		if isExample(t.TextAt(row, key)) {
			out[i] = true
		}
	}
	return out
}

// mentionExamples adds the names of examples that stand in the cells of a row, as a whole or within an expression.
func mentionExamples(row table.Row, mentioned map[string]bool) {
	for _, v := range row.Cells {
		if v.Kind == table.Text && strings.Contains(strings.ToLower(v.Text), "example") {
			namedInText(v.Text, mentioned)
		}
	}
}

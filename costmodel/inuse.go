package costmodel

import (
	"strings"
	"unicode"

	"piececost/costmodel/table"
)

// A row has a cell for every quantity that its scope may have, so that a library of many processes would make each case larger by
// what none of its operations is. What a case does not name is therefore left out of its schema: processes of no operation, and
// their quantities but those that stand in a heading or an expression, which are then said to be read by nothing.

// namedInCase is every name that a case uses, as it is normalised: headings, processes, words of expressions. No name is in it that
// the case does not hold; more than it needs may be.
func namedInCase(c *table.Case) map[string]bool {
	named := map[string]bool{}
	for i := range table.Layouts {
		t := c.Table(table.Layouts[i].Sheet)
		if t == nil {
			continue
		}
		process := -1
		for j, col := range t.Columns {
			name, _, _ := table.SplitHeading(col.Heading)
			named[name] = true
			if name == "process" {
				process = j
			}
		}
		definitions := table.Layouts[i].Scope == "scenario" || table.Layouts[i].Scope == ""
		for _, row := range t.Rows {
			for j, v := range row.Cells {
				if v.Kind == table.Text && (j == process || definitions || strings.HasPrefix(strings.TrimSpace(v.Text), "=")) {
					namedInText(v.Text, named)
				}
			}
		}
	}
	return named
}

// namedInText adds a text as a whole, as a heading, and each of its words.
func namedInText(text string, named map[string]bool) {
	named[table.Normalise(text)] = true
	name, _, _ := table.SplitHeading(text)
	named[name] = true
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		named[table.Normalise(word)] = true
	}
}

// inUse tells whether a process, by name or alias, is among the names of a case; every one is where there is no case.
func (t *Template) inUse(named map[string]bool) bool {
	if named == nil || t.File == "" || named[table.Normalise(t.Name)] {
		return true
	}
	for _, a := range t.Aliases {
		if named[table.Normalise(a)] {
			return true
		}
	}
	return false
}

// declareNamed declares the quantities of a process that no operation is, as far as the case names them.
func (s *Schema) declareNamed(sc *Scope, t *Template, named map[string]bool, ds *table.Diagnostics) {
	for _, it := range t.Items {
		if _, taken := sc.index[it.Name]; taken { // what is in use may mean something else by the name
			continue
		}
		if named[it.Name] || named[table.Normalise(it.Label)] {
			s.declare(sc, it, ds)
		}
	}
}

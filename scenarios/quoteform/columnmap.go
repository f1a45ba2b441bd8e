package quoteform

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A Mapped says where a supplier's own form has what is asked for: Ours is a row of the sheet Quotes or a column of Quote lines, Theirs is what
// he calls it. With an empty Theirs it has the Value. Replace holds words to be replaced; what is replaced by nothing leaves its line out.
type Mapped struct {
	Ours, Theirs, Value string
	Sheet               string // where his label stands on several
	Replace             map[string]string
	place               table.Place
	name, scope, unit   string
}

// mapHeadings are the columns of a map.
const mapHeadings = "ours, theirs, value, replace, sheet"

// ReadMap takes a map of columns from the rows of a CSV file with the headings ours, theirs and, where they are wanted, value, replace, sheet.
func ReadMap(rows [][]string, file string, lib *costmodel.QuoteLibrary) ([]Mapped, error) {
	if len(rows) == 0 {
		return nil, fmt.Errorf("%s is empty; its columns are %s", file, mapHeadings)
	}
	at := map[string]int{}
	for i, h := range rows[0] {
		at[table.Normalise(h)] = i
	}
	for _, need := range []string{"ours", "theirs"} {
		if _, ok := at[need]; !ok {
			return nil, fmt.Errorf("%s has no column %q; its columns are %s", file, need, mapHeadings)
		}
	}
	out := []Mapped{}
	for n, cells := range rows[1:] {
		get := func(name string) string {
			if i, ok := at[name]; ok && i < len(cells) {
				return strings.TrimSpace(cells[i])
			}
			return ""
		}
		m := Mapped{Ours: get("ours"), Theirs: get("theirs"), Value: get("value"), Sheet: get("sheet"), Replace: replacements(get("replace")),
			place: table.Place{File: file, Row: n + 2, Col: 1}}
		if m.Ours == "" && m.Theirs == "" {
			continue
		}
		if err := m.find(lib, file, n+2); err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}

// replacements reads "Werkstoff=material; Summe=".
func replacements(text string) map[string]string {
	out := map[string]string{}
	for _, pair := range strings.Split(text, ";") {
		if from, to, ok := strings.Cut(pair, "="); ok {
			out[strings.ToLower(strings.TrimSpace(from))] = strings.TrimSpace(to)
		}
	}
	return out
}

// find finds what a row of the map is of.
func (m *Mapped) find(lib *costmodel.QuoteLibrary, file string, line int) error {
	name, unit, _ := table.SplitHeading(m.Ours)
	m.unit = unit
	var ok bool
	if name == "line" {
		m.name, m.scope, ok = name, "quote line", true
	}
	for _, scope := range []string{"quote", "quote line"} {
		if n, known := asked(lib, scope, name); known && !ok {
			m.name, m.scope, ok = n, scope, true
		}
	}
	switch {
	case !ok:
		return fmt.Errorf("%s line %d: %q is no row of the sheet Quotes and no column of Quote lines that a supplier is asked for", file, line, m.Ours)
	case m.Theirs == "" && m.Value == "":
		return fmt.Errorf("%s line %d: give what the supplier calls %s, or the value that it has", file, line, m.Ours)
	}
	return nil
}

package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/table"
)

// An OwnRow is a row of the sheet Processes.
type OwnRow struct{ Process, Quantity, Unit, Formula, Note, Source string }

// OwnHeadings are the headings of its columns.
var OwnHeadings = []string{"Process", "Quantity", "Unit", "Formula or value", "Note", "Source"}

// Cells are the texts of a row under OwnHeadings.
func (r OwnRow) Cells() []string {
	return []string{r.Process, r.Quantity, r.Unit, r.Formula, r.Note, r.Source}
}

// OwnCopy writes a process or form of the library as rows of the sheet Processes under another name, "own" and its name where that is
// empty: the first says what it is based on, then all its inputs and relations. Costed as it is, it gives what the one of the library
// gives. processes is the sheet as it stands, nil where there is none; the error says that the name is taken.
func (lib *Library) OwnCopy(t *Template, name string, processes *table.Table) ([]OwnRow, error) {
	if t.Scope == toolKindScope {
		return nil, fmt.Errorf("a kind of tool is changed in the sheet %s: a row for each of its coefficients", toolRelations)
	}
	if t.Name == "" {
		return nil, fmt.Errorf("%s is no process and no form; for the equations of all its rows write all %ss under Process", t.Scope, t.Scope)
	}
	if name = strings.TrimSpace(name); name == "" {
		name = "own " + t.Name
	}
	name, _ = formName(name)
	list, key, what := lib.Processes, name, "process"
	if t.Scope == "part" {
		list, key, what = lib.Forms, formPrefix+" "+name, "form"
	}
	_, scope := ownScopes[table.Normalise(name)]
	switch {
	case table.Normalise(name) == "":
		return nil, fmt.Errorf("%q is no name of a %s", name, what)
	case scope || calledIn(list, name) != nil:
		return nil, fmt.Errorf("piececost has the %s %q itself; give the copy another name", what, name)
	case isExample(name):
		return nil, fmt.Errorf("%q begins with example, and examples that nothing names are not read; give the copy another name", name)
	}
	if processes != nil {
		for _, row := range processes.Rows {
			if ownKey(processes.TextAt(row, "process")) == ownKey(key) {
				return nil, fmt.Errorf("the sheet Processes has the %s %q already, in row %d; give the copy another name", what, name, row.Number)
			}
		}
	}
	out := []OwnRow{{Process: key, Quantity: "based on", Formula: t.Name, Note: "ranges, limits and what has no row here are as there"}}
	for i := range t.Items {
		it := &t.Items[i]
		out = append(out, OwnRow{key, it.Name, it.Unit, it.asTyped(), it.Note, it.Source})
	}
	return out, nil
}

// asTyped is a definition as a person would type it: a quantity in the unit of the row is a number.
func (it *Item) asTyped() string {
	if inner, ok := strings.CutPrefix(it.Is, `"`); ok {
		number, ok := strings.CutSuffix(inner, ` `+it.Unit+`"`)
		if ok && !strings.ContainsAny(number, `" `) {
			return number
		}
	}
	return it.Is
}

// OwnName is the name of a process or form as the sheets Operations and Parts take it.
func OwnName(process string) string {
	name, _ := formName(process)
	return name
}

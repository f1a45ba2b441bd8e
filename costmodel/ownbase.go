package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

// What a row of the sheet Processes may be beside the definition of a quantity: what the process or form is based on, or a check.

const (
	basedOn    = "based_on"    // under Quantity: the formula cell names a process or form of the library
	checkError = "check_error" // under Quantity, as "check" is; an error where it does not hold, and no warning

	formPrefix = "form:" // before the name of a form of material in the column Process

	// GivenMasses is the form that own forms begin as.
	GivenMasses = "given masses"
)

// formName takes the prefix off the name of a form of material; form is false for a process.
func formName(process string) (name string, form bool) {
	name = strings.TrimSpace(process)
	if len(name) >= len(formPrefix) && strings.EqualFold(name[:len(formPrefix)], formPrefix) {
		return strings.TrimSpace(name[len(formPrefix):]), true
	}
	return name, false
}

// ownKey tells processes and forms of the sheet apart, however they are written.
func ownKey(process string) string {
	name, form := formName(process)
	return fmt.Sprint(form, " ", table.Normalise(name))
}

// basesOf are the cells that say what a process or form is based on, by its key.
func basesOf(t *table.Table) map[string]table.Value {
	out := map[string]table.Value{}
	for _, row := range t.Rows {
		if key := ownKey(t.TextAt(row, "process")); table.Normalise(t.TextAt(row, "quantity")) == basedOn && out[key].Kind == table.Empty {
			out[key] = definitionCell(t, row)
			if v := out[key]; v.Kind == table.Empty { // an empty cell is no word either, and is said
				v.Kind = table.Text
				out[key] = v
			}
		}
	}
	return out
}

func (m *Model) refuseBase(base table.Value, why string) {
	if base.Kind != table.Empty {
		m.Diagnostics.Add("process", base.Place, why, "give what is based on another a name of its own, or clear the row")
	}
}

// form returns a form of the library by its name; LoadLibrary has seen that those the program names are there.
func (lib *Library) form(name string) *Template {
	for _, t := range lib.Forms {
		if t.named(name) {
			return t
		}
	}
	return nil
}

// fromBase begins a new process or form as the one of the list that its row "based on" names, or else as usual.
func (m *Model) fromBase(list []*Template, base table.Value, name string, usual *Template) *Template {
	from := usual
	if base.Kind != table.Empty {
		if from = calledIn(list, base.Text); from == nil {
			var names []string
			for _, t := range list {
				names = append(append(names, t.Name), t.Aliases...)
			}
			m.Diagnostics.Add("process", base.Place, fmt.Sprintf("%q is not in the library, so nothing can be based on it", strings.TrimSpace(base.Text)),
				nearestOr(strings.ToLower(strings.TrimSpace(base.Text)), names, "`piececost processes` lists what is there"))
			from = usual
		}
	}
	return &Template{Scope: from.Scope, Name: name, Group: from.Group, What: from.What, Fits: from.Fits, FitsNot: from.FitsNot, Caution: from.Caution,
		Note: ownProcess, based: base.Kind != table.Empty && from != usual, noMaterial: from.noMaterial, noRoute: from.noRoute,
		Items: append([]Item(nil), from.Items...), Checks: append([]Check(nil), from.Checks...)}
}

// calledIn finds a form or process by name, else by alias, or nil.
func calledIn(list []*Template, text string) *Template {
	if strings.TrimSpace(text) == "" {
		return nil
	}
	for _, called := range []func(*Template, string) bool{(*Template).named, (*Template).alias} {
		for _, t := range list {
			if called(t, text) {
				return t
			}
		}
	}
	return nil
}

// ownCheck reads a row that is a condition which should hold; its words stand in the column Note.
func (m *Model) ownCheck(tpl *Template, t *table.Table, row table.Row, isError bool) {
	v := definitionCell(t, row)
	if tpl.defined.Row == 0 {
		tpl.defined = v.Place
	}
	c := Check{Holds: strings.TrimPrefix(strings.TrimSpace(v.Text), "="), Say: t.TextAt(row, "note"), Error: isError, place: v.Place}
	switch {
	case v.Kind == table.Broken:
		m.Diagnostics.Add("cell", v.Place, v.Text, v.Help)
	case v.Kind != table.Text:
		m.Diagnostics.Add("process", v.Place, "a check has no condition", `write one, such as wall >= "1 mm"`)
	case c.Say == "":
		at := t.ValueAt(row, "note").Place
		m.Diagnostics.Add("process", at, "a check says nothing where its condition does not hold", "write what is wrong then in the column Note")
	default:
		tpl.Checks = append(tpl.Checks, c)
	}
}

// unknownForm says what to do about a form that is not known.
func (m *Model) unknownForm(name string, forms []string) string {
	if v := m.Schema.byName["operation"].variant(name); v != nil && v.Template.Note == ownProcess {
		return "in the sheet Processes a form of material is written " + formPrefix + " " + v.Template.Name
	}
	if near := formula.Nearest(strings.ToLower(name), forms); near != "" {
		return "did you mean " + near + "?"
	}
	return "the choices are " + strings.Join(forms, ", ") + "; where masses are known, as of castings and mouldings, take " + GivenMasses +
		"; an own form is defined in the sheet Processes, as " + formPrefix + " " + name
}

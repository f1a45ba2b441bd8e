package costmodel

import (
	"fmt"

	"piececost/costmodel/table"
)

// A process may call an input by a name that is a quantity of other processes: press_strokes of coil blanking is also called
// strokes_per_minute, which fine blanking has as its own. A cell of a column of that name then gives, in a row of the process, the
// input of the process; in expressions the name keeps its one meaning.

// aliasUses is what else the aliases of a library mean: by alias the quantities called so, by name or label.
type aliasUses map[string][]calledQuantity

// calledQuantity is a quantity of a file of definitions, of a process or of what all rows or some forms have.
type calledQuantity struct {
	of      *Template
	it      *Item
	process bool
}

// aliasUses goes through the library once; an alias alone would otherwise be looked for in all of it.
func (lib *Library) aliasUses() aliasUses {
	uses := aliasUses{}
	lib.eachItem(func(c calledQuantity) {
		for _, a := range c.it.aliases {
			uses[a] = nil
		}
	})
	lib.eachItem(func(c calledQuantity) {
		name, label := c.it.Name, table.Normalise(c.it.Label)
		if list, is := uses[name]; is {
			uses[name] = append(list, c)
		}
		if list, is := uses[label]; is && label != name {
			uses[label] = append(list, c)
		}
	})
	return uses
}

func (lib *Library) eachItem(visit func(calledQuantity)) {
	for i, list := range [][]*Template{lib.Scopes, lib.Forms, lib.Processes, lib.Tools, lib.Sizes} {
		for _, t := range list {
			for j := range t.Items {
				visit(calledQuantity{t, &t.Items[j], i == 2})
			}
		}
	}
}

// ofOneProcess tells whether an alias holds in the rows of its process alone: other processes have a quantity of that name, and
// neither the process nor every operation has one.
func (uses aliasUses) ofOneProcess(alias string, it *Item) bool {
	elsewhere := false
	for _, c := range uses[alias] {
		switch {
		case c.process && c.of.has(it), !c.process && c.of.Scope == "operation":
			return false
		case c.process:
			elsewhere = true
		}
	}
	return elsewhere
}

// has tells whether a definition is one of the file's.
func (t *Template) has(it *Item) bool {
	for i := range t.Items {
		if x := &t.Items[i]; x.Name == it.Name && x.place == it.place {
			return true
		}
	}
	return false
}

// addOwnAliases lets a process that a case names be given by the columns that its aliases name.
func (v *Variant) addOwnAliases(uses aliasUses, sc *Scope) {
	for i := range v.Template.Items {
		it := &v.Template.Items[i]
		n := sc.index[it.Name]
		for _, a := range it.aliases {
			other, declared := sc.index[a]
			if v.Definitions[n] == nil || !declared || other == n || !uses.ofOneProcess(a, it) {
				continue
			}
			if v.called == nil {
				v.called = map[int32]int32{}
			}
			v.called[other] = n
		}
	}
}

// ownQuantity is what a column of a quantity gives in a row.
func (m *Model) ownQuantity(sc *Scope, r *Record, quantity int32) int32 {
	if v := m.variantOf(sc, r); v != nil {
		if own, ok := v.called[quantity]; ok {
			return own
		}
	}
	return quantity
}

// ownOfRows is what a column of a quantity gives in the rows of an input; where they differ the quantity itself.
func (m *Model) ownOfRows(f *foundInput, quantity int32) int32 {
	own := quantity
	for i, r := range f.records {
		n := m.ownQuantity(f.scope, r, quantity)
		if i > 0 && n != own {
			return quantity
		}
		own = n
	}
	return own
}

// ownColumns lets the cells of a row give what its process calls by their columns' names.
func (m *Model) ownColumns(sc *Scope, r *Record) {
	v := m.variantOf(sc, r)
	if v == nil || v.called == nil {
		return
	}
	for i := range r.fields {
		f := &r.fields[i]
		own, ok := v.called[f.quantity]
		if !ok {
			continue
		}
		if first := r.field(own); first != nil {
			m.Diagnostics.Add("heading", f.value.Place, fmt.Sprintf("%s is another name of %s for %s, which the row gives already",
				sc.Quantities[f.quantity].Label, sc.Quantities[own].Label, v.Template.Name), "clear one of the two cells",
				table.Related{Place: first.value.Place, Note: "first at"})
			continue
		}
		f.quantity = own
	}
}

package costmodel

import (
	"fmt"
	"slices"
)

// takeOver gives a file of the library what the one has that it is based on, but for the definitions of its own. That one stands on
// its own feet: bases have no bases, so that a reader looks into two files at most.
func (t *Template) takeOver(list []*Template) error {
	if t.basedOn == "" {
		return nil
	}
	i := slices.IndexFunc(list, func(b *Template) bool { return b.Name == t.basedOn })
	if i < 0 || list[i].basedOn != "" {
		return fmt.Errorf("%s: it can't be based on %q: that is no file of its kind, or is based on another itself", t.File, t.basedOn)
	}
	base := list[i]
	own := t.Items
	t.Items = slices.Clone(base.Items)
	for _, it := range own {
		if at := slices.IndexFunc(t.Items, func(b Item) bool { return b.Name == it.Name }); at >= 0 {
			t.Items[at] = it
		} else {
			t.Items = append(t.Items, it)
		}
	}
	t.Checks = slices.Concat(base.Checks, t.Checks)
	t.noMaterial, t.noRoute, t.noMachine = t.noMaterial || base.noMaterial, t.noRoute || base.noRoute, t.noMachine || base.noMachine
	return nil
}

// DefinedIn is the file in which a definition stands, which may be the one that its template is based on.
func (it *Item) DefinedIn() string { return it.place.File }

// DefinedIn is the file in which a check stands.
func (c *Check) DefinedIn() string { return c.place.File }

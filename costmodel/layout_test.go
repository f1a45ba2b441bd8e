package costmodel

import (
	"os"
	"strings"
	"testing"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// TestOperationsReadTheirPart: sizes and masses of a part come from its form, and operations read them there. Nothing that a form
// defines may rest on a quantity of an operation, through however many others, or the strip layout and the press that cuts it would
// need each other. What an operation tells of the structure (the first of a route) is no quantity of it.
func TestOperationsReadTheirPart(t *testing.T) {
	lib, err := LoadLibrary(os.DirFS("../templates")) // one of its own, for it is changed below
	if err != nil {
		t.Fatal(err)
	}
	if reads := readsOperations(t, lib); len(reads) > 0 {
		t.Errorf("forms that rest on operations: %v", reads)
	}
	for _, f := range lib.Forms { // the test sees it where one does
		if f.Name == "profile" {
			f.Items = append(f.Items, Item{Name: "blank_width", Label: "Blank width", Unit: "mm", Is: `"100 mm" + first.bends * "1 mm"`})
		}
	}
	if reads := readsOperations(t, lib); len(reads) == 0 || !strings.HasPrefix(reads[0], "profile: ") {
		t.Errorf("a profile as wide as its operation's bends is not found: %v", reads)
	}
}

// readsOperations lists the form and quantity that rests on a quantity of an operation.
func readsOperations(t *testing.T, lib *Library) (out []string) {
	t.Helper()
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		t.Fatal(err)
	}
	var ds table.Diagnostics
	s := newSchema(lib, sys, nil, nil, &ds)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	part := s.byName["part"]
	for _, v := range part.Variants[1:] {
		names := map[scopedQuantity][]scopedQuantity{}
		note := func(from *Scope, defined int32, to *Scope, quantity int32) {
			names[scopedQuantity{from, defined}] = append(names[scopedQuantity{from, defined}], scopedQuantity{to, quantity})
		}
		s.eachReference(func(sc *Scope, _ *Variant) bool { return sc != part }, note)
		for n := range part.Quantities {
			if d := part.definition(v, int32(n)); d != nil && d.Equation != nil {
				s.references(part, d.Equation, func(to *Scope, quantity int32) { note(part, int32(n), to, quantity) })
			}
		}
		seen := map[scopedQuantity]bool{}
		var walk func(path string, q scopedQuantity)
		walk = func(path string, q scopedQuantity) {
			if seen[q] {
				return
			}
			seen[q] = true
			name := q.scope.Quantities[q.quantity].Name
			if q.scope.Name == "operation" && !q.scope.Quantities[q.quantity].Structural {
				out = append(out, path+" - "+name+" of the operation")
				return
			}
			for _, next := range names[q] {
				walk(path+" - "+name, next)
			}
		}
		for n := range v.Definitions {
			walk(v.Template.Name+": ", scopedQuantity{part, n})
		}
	}
	return out
}

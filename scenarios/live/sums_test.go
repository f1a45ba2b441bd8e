package live

import (
	"strings"
	"testing"

	"piececost/costmodel"
)

// TestEveryRelationHasASumForm: each relation to many rows that equations may sum over has a spreadsheet form of its own, and
// no form is that of a relation that is not there.
func TestEveryRelationHasASumForm(t *testing.T) {
	many := 0
	for _, hop := range costmodel.Relations {
		if !hop.Many {
			continue
		}
		many++
		form := sumFormOf(hop)
		if by := linkGroups[form]; (by != "") != (hop.To == "link") {
			t.Errorf("%s.%s leads to rows of %s, its form is grouped by %q", hop.From, hop.Name, hop.To, by)
		}
	}
	if many != len(sumForms) {
		t.Errorf("%d relations to many rows, %d forms", many, len(sumForms))
	}
}

// TestUnlistedRelation: a relation that is not listed is a fault of the program, never the sum of another one.
func TestUnlistedRelation(t *testing.T) {
	for _, hop := range []costmodel.Hop{{From: "machine", Name: "shared", To: "operation", Many: true}, {From: "plant", Name: "machines", To: "machine",
		Many: true},
		{From: "part", Name: "pooled", To: "operation", Many: true}, {From: "part", Name: "joined", To: "link", Many: true}} {
		func() {
			defer func() {
				if p := recover(); p == nil || !strings.Contains(p.(string), hop.Name+" of a "+hop.From) {
					t.Errorf("%v: the panic is %v", hop, p)
				}
			}()
			t.Errorf("%v has the form %d", hop, sumFormOf(hop))
		}()
	}
}

package costmodel

import (
	"fmt"
	"strings"
	"testing"

	"piececost/costmodel/table"
)

// TestOwnChoices: an own definition of a choice is one of its options or its machine's. Along any other relation it would decide
// the pool of a machine by one rule and the hours by another, and differ between combinations of alternatives.
func TestOwnChoices(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"pooled":                       "",
		"machine.equipment_allocation": "",
		"next.equipment_allocation": `equipment_allocation: "next.equipment_allocation" can't be ` +
			`taken over; a choice of an operation follows its machine alone`,
		"part.first.equipment_allocation": `equipment_allocation: "part.first.equipment_allocation" can't ` +
			`be taken over; a choice of an operation follows its machine alone`,
		"next.machine.equipment_allocation": `equipment_allocation: "next.machine.equipment_allocation" can't be taken over; ` +
			`a choice of an operation follows its machine alone`,
		"machine.labour_allocation": `equipment_allocation: "machine.labour_allocation" is neither ` +
			`one of shared, dedicated, pooled nor another choice among them`,
		"crew > 1": `equipment_allocation: "crew > 1" is neither one of shared, dedicated, pooled nor another choice among them`,
	} {
		c := sampleTables(t)
		c["Processes"] = fmt.Sprintf("Process,Quantity,Unit,Formula or value\nall operations,Equipment allocation,1,%s\n", text)
		m := New(c.read(t), lib)
		var got []string
		for _, d := range m.Diagnostics {
			if d.Severity == table.Error {
				got = append(got, d.Summary)
				if d.Place.Sheet != "Processes" || d.Place.Row != 2 || d.Place.Col != 4 {
					t.Errorf("%s: said at %v", text, d.Place)
				}
			}
		}
		if strings.Join(got, "; ") != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}

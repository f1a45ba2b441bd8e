package costmodel

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"piececost/costmodel/table"
)

// costOfChange costs the sample's first scenario with one change of it.
func costOfChange(t *testing.T, words string) float64 {
	t.Helper()
	c := sampleTables(t)
	c["Scenarios"] += words + "\n"
	m := modelOf(t, c)
	if m.Diagnostics.HasErrors() {
		t.Fatalf("%s: %v", words, m.Diagnostics)
	}
	return mustCompile(t, m, m.Scenarios[0], CompileOptions{}).Detail(m.Scenarios[0].Volume).Scenario().Must("piece_cost")
}

// TestThingFirst: Row is the thing and Column the quantity in every sheet; the older order of Plants and Case is the same
// change.
func TestThingFirst(t *testing.T) {
	t.Parallel()
	base := costOfChange(t, ",,,,,,")
	for name, words := range map[string][]string{
		"plant": {"Plants,Van plant,Direct labour rate,60,,,", "Plants,Direct labour rate,Van plant,60,,,",
			"Plants,*,Direct labour rate [EUR/h],60,,,", "Plants,Direct labour rate [EUR/min],*,1,,,"},
		"case": {"Case,,Interest rate,20,,,", "Case,*,Interest rate,20,,,", "Case,Value,Interest rate,20,,,", "Case,Interest rate,Value,20,,,",
			"Case,Interest rate,,20,,,", "Case,Interest rate,any word,20,,,"},
		"row of a grade": {"Materials,M01,Base price,3,,,"},
	} {
		first := costOfChange(t, words[0])
		if first == base {
			t.Errorf("%s: %s changes nothing", name, words[0])
		}
		for _, w := range words[1:] {
			if got := costOfChange(t, w); math.Abs(got/first-1) > 1e-12 {
				t.Errorf("%s costs %v, %s costs %v", words[0], first, w, got)
			}
		}
	}
}

// TestThingFirstEverywhere: the sheet Overrides reads both orders too, and notes the one form.
func TestThingFirstEverywhere(t *testing.T) {
	t.Parallel()
	want := costOfChange(t, "Plants,Van plant,Direct labour rate,60,,,")
	for _, words := range []string{"Plants,Van plant,Direct labour rate", "Plants,Direct labour rate,Van plant"} {
		c := sampleTables(t)
		c["Overrides"] = "Scenario,Sheet,Row,Column,Value,State\n," + words + ",60,\n"
		m := modelOf(t, c)
		got := mustCompile(t, m, m.Scenarios[0], CompileOptions{}).Detail(m.Scenarios[0].Volume).Scenario().Must("piece_cost")
		if math.Abs(got/want-1) > 1e-12 || len(m.Overrides) == 0 || m.Overrides[0].Row != "Van plant" || m.Overrides[0].Column != "Direct labour rate" {
			t.Errorf("%s: %v, want %v; %+v", words, got, want, m.Overrides)
		}
	}
}

// TestWrongWords: the word that is wrong is said at its own cell, in either order; what can't be told apart is refused.
func TestWrongWords(t *testing.T) {
	t.Parallel()
	for words, want := range map[string]string{
		"Plants,Van plnt,Direct labour rate,60,,,": `Scenarios!B7: "Van plnt" matches no row of the sheet Plants; did you mean Van plant?`,
		"Plants,Direct labour rate,Van plnt,60,,,": `Scenarios!C7: "Van plnt" matches no row of the sheet Plants; did you mean Van plant?`,
		"Plants,Van plant,Direct labor rate,60,,,": `Scenarios!C7: "Direct labor rate" is no quantity ` +
			`of the sheet Plants; did you mean Direct labour rate?`,
		"Plants,Direct labor rate,Van plant,60,,,": `Scenarios!B7: "Direct labor rate" is no quantity ` +
			`of the sheet Plants; did you mean Direct labour rate?`,
		"Plants,,Direct labour rate,60,,,": `Scenarios!B7: the row names nothing of the sheet ` +
			`Plants; write a key of that sheet, a list of keys, or * for all`,
		"Case,Interest rat,Value,20,,,": `Scenarios!B7: "Interest rat" is no quantity of the sheet Case; did you mean Interest rate?`,
		"Case,Interst rate of a bank,Interest rate,20,,,": `Scenarios!B7: the sheet Case has no rows to choose from, and "Interst ` +
			`rate of a bank" names one; leave Row empty, with the quantity in Column`,
		"Materials,Base price,M01,3,,,": `Scenarios!C7: "M01" is no quantity of the sheet Materials; ` +
			`exchange the two: the key M01 first, then the quantity Base price`,
	} {
		c := sampleTables(t)
		c["Scenarios"] += words + "\n"
		var got []string
		for _, d := range modelOf(t, c).Diagnostics {
			if d.Severity == table.Error {
				got = append(got, strings.TrimSpace(fmt.Sprint(d)))
			}
		}
		if len(got) != 1 || !strings.HasSuffix(got[0], want) {
			t.Errorf("%s:\n got %q\nwant %q", words, got, want)
		}
	}
}

// TestNamesBothWays: a plant that is called as a quantity is leaves two readings of a change.
func TestNamesBothWays(t *testing.T) {
	t.Parallel()
	c := sampleTables(t)
	c["Plants"] = strings.Replace(c["Plants"], "Van plant", "Shifts", 1)
	c["Scenarios"] = strings.ReplaceAll(c["Scenarios"], "Van plant", "Shifts") + "Plants,Shifts,Working days,200,,,\n"
	if m := modelOf(t, c); m.Diagnostics.HasErrors() {
		t.Errorf("the words have one reading: %v", m.Diagnostics)
	}
	lines := strings.Split(strings.TrimSpace(c["Plants"]), "\n")
	for i := range lines {
		lines[i] = lines[i] + "," + []string{"Working days", ""}[min(i, 1)]
	}
	c["Plants"] = strings.Join(lines, "\n") + "\n"
	text := fmt.Sprint(modelOf(t, c).Diagnostics)
	if !strings.Contains(text, `"Shifts" and "Working days" are each a plant and a quantity of the sheet Plants; rename the plant`) {
		t.Error(text)
	}
}

// TestNamesOfCells: Input record names a cell by the thing and then the quantity.
func TestNamesOfCells(t *testing.T) {
	t.Parallel()
	c := sampleTables(t)
	cells, _ := modelOf(t, c).CellsRead()
	got := map[string]string{}
	for _, use := range cells {
		row, column := use.Names()
		got[use.Value.Place.Sheet+"!"+use.Value.Place.Cell()] = row + "|" + column
	}
	for cell, want := range map[string]string{"Plants!C2": "Van plant|Working days", "Plants!A2": "Working days|Quantity",
		"Scenarios!D2": "A baseline|Annual volume [1/yr]", "Scenarios!D1": "|A baseline"} {
		if got[cell] != want {
			t.Errorf("%s is named %q, want %q", cell, got[cell], want)
		}
	}
}

// modelOf reads texts that may have errors.
func modelOf(t *testing.T, c csvCase) *Model {
	t.Helper()
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	return New(c.read(t), lib)
}

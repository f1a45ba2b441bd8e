package lint

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"piececost/scenarios/ooxml"
	"piececost/scenarios/sheetformula"
)

// TestRelativeForms: the form of a formula in C5, whatever stands in it.
func TestRelativeForms(t *testing.T) {
	for _, c := range []struct{ formula, form string }{
		{"A5*B4", "R[0]C[-2]*R[-1]C[-1]"},
		{"$A5*B$4+$D$7", "R[0]C1*R4C[-1]+R7C4"},
		{"sum( A1 : a9 )", "SUM(R[-4]C[-2]:R[4]C[-2])"},
		{"SUM(A1:A9)", "SUM(R[-4]C[-2]:R[4]C[-2])"},
		{"SUM(B9:A1)", "SUM(R[-4]C[-2]:R[4]C[-1])"},
		{"SUM(A:B,$3:4)", "SUM(R1C[-2]:R1048576C[-1],R3C1:R[-1]C16384)"},
		{"'My Sheet'!A5&mysheet!$A$5", "my sheet:!R[0]C[-2]&mysheet:!R5C1"},
		{"'It''s'!A5", "it's:!R[0]C[-2]"},
		{"SUM(Jan:Mar!A5,'Q 1:Q 4'!A5)", "SUM(jan:mar!R[0]C[-2],q 1:q 4!R[0]C[-2])"},
		{"[3]Rates!A5+'[3]Wage rates'!A5+'C:\\x\\[a.xlsx]S'!A5", "[3]rates:!R[0]C[-2]+[3]wage rates:!R[0]C[-2]+[a.xlsx]s:!R[0]C[-2]"},
		{"IF(Rate>=1.5E-3,\"A1\"\"B2\",TRUE)", "IF(!rate>=1.5E-3,\"A1\"\"B2\",!true)"},
		{"_xlfn.XLOOKUP(A5,Table1[Key],Table1[[#All],[A1]])", "XLOOKUP(R[0]C[-2],table1[],table1[])"},
		{"LOG10(A5)+TAX25+XFE1+A1048577", "LOG10(R[0]C[-2])+R[20]C[13567]+!xfe1+!a1048577"},
		{"-A5^2%", "-R[0]C[-2]^2%"},
		{"{1,2;3,4}", "{1,2;3,4}"},
		{"A1:INDEX(B1:B9,3)", "R[-4]C[-2]:INDEX(R[-4]C[-1]:R[4]C[-1],3)"},
		{"#REF!+Sheet!#REF!", "#REF!+#REF!"},
		{"2024!A1", "2024:!R[-4]C[-2]"},
	} {
		if got := factsOf(c.formula, 5, 3).form; got != c.form {
			t.Errorf("%s: form %s, want %s", c.formula, got, c.form)
		}
	}
}

// TestCopiesHaveOneForm: a formula that the reader shifts, as a spreadsheet program copies it, keeps its form.
func TestCopiesHaveOneForm(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	reference := func() string {
		dollar := func() string { return []string{"", "$"}[r.IntN(2)] }
		return dollar() + string(rune('F'+r.IntN(12))) + dollar() + fmt.Sprint(30+r.IntN(60))
	}
	pieces := []func() string{
		reference,
		func() string { return fmt.Sprintf("G%d:K%d", 30+r.IntN(20), 50+r.IntN(40)) },
		func() string { return fmt.Sprintf("$G$%d:K%d", 30+r.IntN(5), 80+r.IntN(40)) },
		func() string { return "'Plant 1'!" + reference() },
		func() string { return "Rates!" + reference() },
		func() string { return fmt.Sprint(r.IntN(500)) },
		func() string { return `"A1 B2"` },
		func() string { return "rate_2" },
	}
	for range 2000 {
		var parts []string
		for range 1 + r.IntN(5) {
			parts = append(parts, pieces[r.IntN(len(pieces))]())
		}
		formula := "SUM(" + strings.Join(parts, ",") + ")*" + reference()
		rows, cols := r.IntN(50)-20, r.IntN(6)-3
		shifted := ooxml.Shift(formula, rows, cols)
		a, b := factsOf(formula, 60, 20).form, factsOf(shifted, 60+rows, 20+cols).form
		if a != b {
			t.Fatalf("%s and its copy %s have the forms %s and %s", formula, shifted, a, b)
		}
		if other := factsOf(shifted+"+0", 60+rows, 20+cols).form; other == a {
			t.Fatalf("%s: the form does not tell another formula", formula)
		}
	}
}

// TestReads: what a formula reads, in which way.
func TestReads(t *testing.T) {
	for _, c := range []struct{ formula, reads, operands, sums string }{
		{"A1*B2", "A1 B2", "A1 B2", ""},
		{"SUM(A1:A9,C3)", "A1:A9 C3", "", "A1:A9 C3"},
		{"-A1&B1", "A1 B1", "A1", ""},
		{"IF(A1=B1,SUM(C1:C2)/D1,0)", "A1 B1 C1:C2 D1", "D1", "C1:C2"},
		{"VLOOKUP(A1,Rates!A:C,2,0)^2", "A1 A1:C1048576", "", ""},
		{`"A1"&'A1 B1'!C2`, "C2", "", ""},
	} {
		f := factsOf(c.formula, 5, 5)
		for _, x := range []struct {
			what string
			refs []sheetformula.Ref
			want string
		}{{"reads", f.reads, c.reads}, {"operands", f.operands, c.operands}, {"sums", f.sums, c.sums}} {
			var got []string
			for _, r := range x.refs {
				text := cellName(r.Row1, r.Col1)
				if !r.Single() {
					text += ":" + cellName(r.Row2, r.Col2)
				}
				got = append(got, text)
			}
			if strings.Join(got, " ") != x.want {
				t.Errorf("%s: %s %v, want %s", c.formula, x.what, got, x.want)
			}
		}
	}
}

func cellName(row, col int) string { return fmt.Sprintf("%c%d", 'A'+col-1, row) }

// TestSpans: the sheets that a reference means, in whatever order it names them.
func TestSpans(t *testing.T) {
	b := &book{sheets: []*sheet{{name: "Jan"}, {name: "feb"}, {name: "Feb"}, {name: "Mar"}}}
	for formula, want := range map[string][]int{"A1": {1}, "Feb!A1": {2}, "FEB!A1": {1}, "Jan:Mar!A1": {0, 1, 2, 3}, "Mar:Feb!A1": {2, 3}, "Apr!A1": nil,
		"Apr:Mar!A1": nil, "Jan:Apr!A1": nil, "[1]Jan!A1": nil} {
		var got []int
		for _, s := range b.spansOf(1, factsOf(formula, 1, 1).reads) {
			got = append(got, s.sheet)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s means the sheets %v, want %v", formula, got, want)
		}
	}
}

// TestCovered compares the sweep with a look at every area.
func TestCovered(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for range 200 {
		s := &sheet{}
		var list []ooxml.Cell
		for range 60 {
			list = append(list, ooxml.Cell{Row: 1 + r.IntN(20), Col: 1 + r.IntN(20)})
		}
		s.take(list)
		var areas []sheetformula.Area
		for range r.IntN(6) {
			a := sheetformula.Area{Row1: 1 + r.IntN(20), Col1: 1 + r.IntN(20)}
			a.Row2, a.Col2 = a.Row1+r.IntN(8), a.Col1+r.IntN(8)
			areas = append(areas, a)
		}
		var all []int32
		for i := range s.cells {
			all = append(all, int32(i))
		}
		for i, got := range s.covered(all, areas) {
			c := &s.cells[i]
			want := slices.ContainsFunc(areas, func(a sheetformula.Area) bool { return a.Contains(c.Row, c.Col) })
			if got != want {
				t.Fatalf("cell %d, %d in %v: %v, want %v", c.Row, c.Col, areas, got, want)
			}
		}
	}
}

// FuzzFormula: any text is cut into tokens to its end, and the facts hold together.
func FuzzFormula(f *testing.F) {
	for _, c := range []string{"A1", "'", "[", "[1", "[1]A!B2", "\"", "#", "{1,2", "$", "$A", "A$", "1:", ":1", "((((", "))", "1E", "1E+", "é!A1", "A1:B",
		"Table1[[#All],[x]]", "'a'''!A1", "--A1^--2"} {
		f.Add(c)
	}
	f.Fuzz(func(t *testing.T, formula string) {
		facts := factsOf(formula, 3, 3)
		for _, r := range facts.reads {
			if r.Book == "" && (r.Row1 < 1 || r.Col1 < 1 || r.Row2 > sheetformula.LastRow || r.Col2 > sheetformula.LastCol || r.Row1 > r.Row2 ||
				r.Col1 > r.Col2) {
				t.Errorf("%q reads %+v", formula, r)
			}
		}
		if facts.depth > len(formula) || len(facts.constants) > maxNamed {
			t.Errorf("%q: %+v", formula, facts)
		}
	})
}

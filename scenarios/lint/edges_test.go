package lint

import "testing"

// edges are what lies just on one or the other side of a rule.
var edges = []struct{ name, lines, want string }{
	{"an odd formula that is copied across is a row of its own", rows(1, 8, "Plan!A# 7\nPlan!B# =A#^3\nPlan!C# =B#^3") + "Plan!B5 =A5+A4\nPlan!C5 =B5+B4", ``},
	{"two typed numbers side by side are no row", rows(1, 8, "Plan!A# 7\nPlan!B# =A#^3\nPlan!C# =B#^3") + "Plan!B5 33\nPlan!C5 34", `
		Plan!A5 unused-input: no formula reads the typed number 7, though they read its neighbours
		Plan!B5 pattern-break: the typed number 33 in a column of formulas such as =A4^3, and 1 more across to C5`},
	{"rows of findings: three apart are one block, four are two", `
		Plan!A1 =B1*7
		Plan!A4 =B4*7
		Plan!A8 =B8*7`, `
		Plan!A1 constant-in-formula: the constant 7 inside the formula =B1*7, and 1 more down to A4
		Plan!A8 constant-in-formula: the constant 7 inside the formula =B8*7`},
	{"columns of findings: one apart is two blocks", `
		Plan!A1 =B3*7
		Plan!C1 =B4*7`, `
		Plan!A1 constant-in-formula: the constant 7 inside the formula =B3*7
		Plan!C1 constant-in-formula: the constant 7 inside the formula =B4*7`},
	{"two read and one not", "L!A1 7.5\nL!A2 8\nL!A3 2\nL!C1 =A1*A2", ``},
	{"three read and two not", "L!A1 7.5\nL!A2 8\nL!A3 2\nL!A4 9\nL!A5 4\nL!C1 =A1*A2*A3", ``},
	{"four read and two not", "L!A1 7.5\nL!A2 8\nL!A3 2\nL!A4 9\nL!A5 4\nL!A6 1.5\nL!C1 =A1*A2*A3*A4", `
		L!A5 unused-input: no formula reads the typed number 4, though they read its neighbours, and 1 more down to A6`},
	{"a blank and a text in a list", "L!A1 7.5\nL!A3 8\nL!A4 ~shared\nL!A5 2\nL!A6 9\nL!C1 =A1*A3*A5", `
		L!A6 unused-input: no formula reads the typed number 9, though they read its neighbours`},
	{"two blanks end a list", "L!A1 7.5\nL!A2 8\nL!A3 2\nL!A6 9\nL!C1 =A1*A2*A3", ``},
	{"a formula ends a list", "L!A1 7.5\nL!A2 8\nL!A3 2\nL!A4 =SUM(A1:A3)\nL!A5 9", ``},
	{"a list that counts", "L!A1 10\nL!A2 20\nL!A3 30\nL!A4 40\nL!C1 =A1*A2*A3", ``},
	{"a year above a list", "L!A1 2026\nL!A2 7.5\nL!A3 8\nL!A4 2\nL!C1 =A2*A3*A4", ``},
	{"volumes above lists", "L!A1 5000\nL!A2 7.5\nL!A3 8\nL!A4 2\nL!B1 12000\nL!B2 7.5\nL!B3 8\nL!B4 2\nL!D1 =A2*A3*A4\nL!D2 =B2*B3*B4", ``},
	{"dates in a list", "L!A1 7.5\nL!A2 8\nL!A3 2\nL!A4 {yyyy-mm-dd} 45000\nL!C1 =A1*A2*A3", ``},
	{"numbers of parts in a table", rows(1, 3, "L!A# 471#\nL!B# 7.#\nL!C# 8.5\nL!D# 9.#\nL!F# =B#*C#*D#"), ``},
	{"an input sheet of the program is read by it", "Parts!A1 ~Part\nParts!B1 ~Gauge [mm]\nParts!B2 2\nParts!B3 3.5\nParts!B4 4\nParts!B5 7\n" +
		"Parts!B6 ~0.028 in\nOwn!A1 =Parts!B2+Parts!B3+Parts!B4", ``},
	{"another sheet of that name is not", "Parts!A1 ~Thing\nParts!B1 ~Gauge [mm]\nParts!B2 2\nParts!B3 3.5\nParts!B4 4\nParts!B5 7\n" +
		"Parts!B6 ~0.028 in\nOwn!A1 =Parts!B2+Parts!B3+Parts!B4", `
		Parts!B5 unused-input: no formula reads the typed number 7, though they read its neighbours
		Parts!B6 mixed-units: "0.028 in" under the heading "Gauge [mm]"`},
	{"two tables in a column", "T!A1 ~1 mm\nT!A2 ~2 mm\nT!A6 ~1 in\nT!A7 ~2 in", ``},
	{"a gap in a table", "T!A1 ~1 mm\nT!A2 ~2 mm\nT!A5 ~1 in", `
		T!A5 mixed-units: "1 in" in a column in mm`},
	{"a list of several quantities", "T!A1 ~1 mm\nT!A2 ~1 in\nT!A3 ~3 kg", ``},
	{"a sum over a whole column, its heading per year", "T!A1 ~2026\nT!A2 8\nT!A3 9\nT!C1 =SUM(A:A)", ``},
	{"a sum over a range", "T!A1 ~7\nT!A2 ~8\nT!C1 =SUM(A1:A2)", `
		T!A1 number-as-text: the number 7 is stored as text, and 1 more down to A2`},
	{"arithmetic with a text of another sheet", "T!A1 ~7\nU!A1 =T!A1*U2", `
		T!A1 number-as-text: the number 7 is stored as text`},
	{"comparing and joining a text is no arithmetic", "T!A1 ~7\nU!A1 =IF(T!A1=U2,T!A1&U2,0)", ``},
}

func TestEdges(t *testing.T) {
	for _, c := range edges {
		t.Run(c.name, func(t *testing.T) { expect(t, built(t, c.lines), c.want) })
	}
}

package costmodel

import (
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/table"
)

// alternativesCase is the sample with two scenarios of design A that list other alternatives, and rows that bear them: by
// sheet, a row's beginning, its Alternative, and of a second row of the key what is changed in it and its Alternative.
func alternativesCase(t testing.TB, first, second string, rows [][5]string) csvCase {
	t.Helper()
	c := sampleTables(t)
	c["Scenarios"] = "Sheet,Row,Column,A baseline,A other\n,,Annual volume [1/yr],60000,60000\n,,Product,TRAY_A,TRAY_A\n,,Alternatives,\"" + first + "\",\"" +
		second + "\"\n,,Plant,Van plant,Van plant\n"
	for _, r := range rows {
		lines := strings.Split(strings.TrimRight(c[r[0]], "\n"), "\n")
		column := slices.IndexFunc(strings.Split(lines[0], ","), func(h string) bool { return h == "Alternative" })
		at := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, r[1]+",") })
		if column < 0 || at < 0 {
			t.Fatalf("no row %s, or no column Alternative, in %s", r[1], r[0])
		}
		tagged := func(line, tag string) string {
			cells := strings.Split(line, ",")
			cells[column] = `"` + tag + `"`
			return strings.Join(cells, ",")
		}
		if old, with, ok := strings.Cut(r[3], ">"); ok {
			lines = append(lines, tagged(strings.Replace(lines[at], old, with, 1), r[4]))
		}
		lines[at] = tagged(lines[at], r[2])
		c[r[0]] = strings.Join(lines, "\n") + "\n"
	}
	return c
}

// TestLeftOut: what stands in several alternatives of which a scenario lists none is said, what may be meant is not.
func TestLeftOut(t *testing.T) {
	step := [5]string{"Operations", "A01,20", "tandem", ",E02,>,E03,", "transfer"}
	part := [5]string{"Parts", "A01", "thick", ",0.75,>,0.65,", "thin"}
	cover := [5]string{"Bill of materials", "TRAY_A,COVER_A", "old cover", ",COVER_A,>,COVER_C,", "thin cover"}
	drain := [5]string{"Bill of materials", "TRAY_A,P05", "drain"}
	for name, of := range map[string]struct {
		first, second string
		rows          [][5]string
		want          []string // how the findings begin and what they hold, with ... between
	}{
		"both have the operation": {"tandem", "transfer", [][5]string{step}, nil},
		"one lacks it": {"tandem", "", [][5]string{step}, []string{
			"Operations!G70: warning: no scenario lists the alternative \"transfer\" of operation A01/20",
			"Scenarios!E4: warning: operation A01/20 is left out: none of its 2 alternatives counts (scenario A other); list tandem or " +
				"transfer, unless the operation is not wanted [alternative at tables Operations!G3]"}},
		"an operation with one tag": {"sealed", "", [][5]string{{"Operations", "TRAY_A,20", "sealed"}}, nil},
		"one with two tags":         {"wet", "", [][5]string{{"Operations", "TRAY_A,20", "wet, dry"}}, nil},
		"the part is not there":     {"tandem, with skin", "transfer", [][5]string{step, {"Bill of materials", "COVER_A,A01", "with skin"}}, nil},
		"no scenario has it": {"", "", [][5]string{step}, []string{
			"Operations!G3: warning: no scenario lists the alternative \"tandem\" of operation A01/20; list it in the row Alternatives of Scenarios; " +
				"`piececost combine`",
			"... no scenario lists the alternative \"transfer\" of operation A01/20"}},
		"the child comes with its alternatives": {"thick", "", [][5]string{part, {"Bill of materials", "COVER_A,A01", "thick, thin"}},
			[]string{"Parts!C51: warning: no scenario lists the alternative \"thin\" of part A01",
				"Scenarios!E4: warning: child A01 of COVER_A is left out: none of its 2 alternatives counts (scenario A other); list thick or thin, " +
					"unless the child is not wanted [alternative at tables Parts!C18]"}},
		"an optional child in two gauges": {"skin, thick", "thin", [][5]string{part, {"Bill of materials", "COVER_A,A01", "skin"}}, nil},
		"a link in two alternatives": {"early", "", [][5]string{{"Bill of materials", "TRAY_A,P02", "early", ",30,>,10,", "late"}},
			[]string{"Bill of materials!E61: warning: no scenario lists the alternative \"late\" of link TRAY_A/P02",
				"Scenarios!E4: warning: child P02 of TRAY_A is left out: none of its 2 alternatives counts"}},
		"one child for another": {"old cover", "", [][5]string{cover}, []string{
			"Bill of materials!E61: warning: no scenario lists the alternative \"thin cover\" of link TRAY_A/COVER_C",
			"Scenarios!E4: warning: none of COVER_A (old cover) and COVER_C (thin cover) at operation 30 of TRAY_A counts (scenario A other); list old " +
				"cover or thin cover, unless none of them is wanted [alternative at tables Bill of materials!E4]"}},
		"two of them at one operation": {"old cover, old seal", "", [][5]string{cover,
			{"Bill of materials", "TRAY_A,P01", "old seal", ",P01,>,P03,", "new seal"}},
			[]string{"Bill of materials!E61: warning: no scenario lists", "Bill of materials!E62: warning: no scenario lists",
				"Scenarios!E4: warning: none of COVER_A (old cover) and COVER_C (thin cover) at operation 30 of TRAY_A counts",
				"Scenarios!E4: warning: none of P01 (old seal) and P03 (new seal) at operation 30 of TRAY_A counts"}},
		"each has one of two children": {"old cover", "thin cover", [][5]string{cover}, nil},
		"each has one, and an extra":   {"old cover", "thin cover, drain", [][5]string{cover, drain}, nil},
		"an extra, listed with one, by itself": {"old cover, drain", "drain, tandem",
			[][5]string{cover, drain, {"Operations", "A01,20", "tandem, transfer"}}, []string{"Bill of materials!E61: warning: no scenario lists",
				"Scenarios!E4: warning: none of COVER_A (old cover) and COVER_C (thin cover) at operation 30"}},
		"two extras":     {"valve, drain", "", [][5]string{drain, {"Bill of materials", "TRAY_A,P04", "valve"}}, nil},
		"an extra alone": {"drain", "", [][5]string{drain}, nil},
		"one quantity for another": {"few", "", [][5]string{{"Bill of materials", "TRAY_A,P02", "few", ",28,>,30,", "many"}},
			[]string{"Bill of materials!E61: warning: no scenario lists",
				"Scenarios!E4: warning: none of P02 (few) and P02 (many) at operation 30 of TRAY_A counts"}},
		"an option that joins at two operations": {"extra", "", [][5]string{{"Bill of materials", "TRAY_A,P02", "extra", ",30,>,10,", "extra"}}, nil},
		"gauges are not misspelt": {"cover 0.75", "cover 0.75", [][5]string{{"Parts", "A01", "cover 0.75", ",0.75,>,0.65,",
			"cover 0.65"}}, []string{"... no scenario lists the alternative \"cover 0.65\" of part A01; list it in the row Alternatives of Scenarios; `"}},
		"a letter is wrong": {"tandem", "transfer", [][5]string{step, {"Operations", "TRAY_A,20", "tanden"}},
			[]string{"... no scenario lists the alternative \"tanden\" of operation TRAY_A/20; list it in the row Alternatives of " +
				"Scenarios, or write tandem if that is meant"}},
		"a second word without effect": {"tandem", "transfer", [][5]string{step, {"Operations", "TRAY_A,20", "tandem, trial, transfer"}}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			m := alternativesCase(t, of.first, of.second, of.rows).model(t)
			ds := m.Diagnostics
			for _, s := range m.Scenarios {
				_, more := m.Compile(s, CompileOptions{})
				ds = append(ds, more...)
			}
			var got []string
			for _, d := range ds.Sorted() {
				if d.Code == "left out" || d.Code == Unlisted || d.Severity == table.Error {
					got = append(got, d.String())
				}
			}
			if len(got) != len(of.want) {
				t.Fatalf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(of.want, "\n"))
			}
			for i, w := range of.want {
				if rest, ok := strings.CutPrefix(w, "... "); ok && !strings.Contains(got[i], rest) || !ok && !strings.HasPrefix(got[i], "tables "+w) {
					t.Errorf("found %s\nwant %s", got[i], w)
				}
			}
		})
	}
}

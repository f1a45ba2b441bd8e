package costmodel

import (
	"math"
	"strings"
	"testing"

	"piececost/costmodel/table"
)

const studiesHead = "Study,Scenario,Against,Input,From,To,Points,Second input,Second from,Second to,Second points,Annual volume [1/yr],Target " +
	"[EUR],Own remarks,Mass limit [kg]\n"

// asks reads a sheet Studies into the sample, errors and all.
func asks(t *testing.T, sheet string) *Model {
	t.Helper()
	c := sampleTables(t)
	c["Studies"] = sheet
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	return New(c.read(t), lib)
}

// studyFindings are the findings of the sheet Studies: all of them warnings, since no cost rests on it.
func studyFindings(t *testing.T, m *Model) table.Diagnostics {
	t.Helper()
	var out table.Diagnostics
	for _, d := range m.Diagnostics {
		if d.Place.Sheet != "Studies" || d.Code == unknownCode && d.Place.Cell() == "N1" { // the column of own remarks
			continue
		}
		if leaves := strings.HasSuffix(d.Help, "the study is left out"); d.Severity != table.Warning || leaves != (d.Place.Row > 1) {
			t.Errorf("%v", d)
		}
		out = append(out, d)
	}
	return out
}

// TestQuestionsRead: what each kind may say arrives as it is meant; an empty row and own words are no question.
func TestQuestionsRead(t *testing.T) {
	m := asks(t, studiesHead+
		"break-even values,B,A baseline,Materials/M04/Base price,0.1,900 EUR/t,,,,,,60000,,mine,\n"+
		",,,,,,,,,,,,,only a remark,\n"+
		"Break-even values,c variant 2,,,,,,,,,,,185,,\n"+
		"parity,B,A,Operations/A01/20/Reject rate,1%,5,,,,,,,,,\n"+
		"least-cost map,\"A, C\",,annual volume,5000,300000,12,Case/Interest rate,5,15,6,,,,\n"+
		"two-way table,C,A,Annual volume,,,,Plants/Van plant/Direct labour rate,,,,40000,,,\n"+
		"sensitivity,A,,,,,,,,,,,,,\n"+
		"cross-over,,,,1000,2e5,,,,,,,,,\n"+
		"scenario comparison,,C,,,,,,,,,,,,\n"+
		"least-cost combination,A,,,,,,,,,,30000,,,70 kg\n")
	if len(studyFindings(t, m)) > 0 || len(m.questions) != 9 {
		t.Fatal(len(m.questions), m.Diagnostics)
	}
	q := m.questions[0]
	if q.Kind != AskSolve || q.Scenarios[0].Name != "B variant 1" || q.Against.Name != "A baseline" || q.First.Input.String() != "Materials/M04/Base price" ||
		q.First.From != 0.1 || math.Abs(q.First.To-0.9) > 1e-15 || q.Volume != 60000 || !math.IsNaN(q.Target) || q.Place.Cell() != "A2" {
		t.Errorf("%+v", q)
	}
	if q := m.questions[1]; q.Target != 185 || q.Against != nil || q.First.Input != nil || q.Volume != 0 || q.Scenarios[0].Name != "C variant 2" {
		t.Errorf("%+v", q)
	}
	if q := m.questions[2]; q.Kind != AskParity || q.First.From != 1 || q.First.To != 5 { // in the unit of the cells, %
		t.Errorf("%+v", q)
	}
	if q := m.questions[3]; len(q.Scenarios) != 2 || q.First.Points != 12 || q.Second.Points != 6 || q.Second.From != 5 ||
		q.First.Input.Column != "annual volume" {
		t.Errorf("%+v", q)
	}
	if q := m.questions[4]; q.Volume != 40000 || q.First.Points != 0 || !math.IsNaN(q.Second.From) {
		t.Errorf("%+v", q)
	}
	if q := m.questions[6]; q.First.From != 1000 || q.First.To != 200000 {
		t.Errorf("%+v", q)
	}
	if q := m.questions[8]; q.Kind != AskCombine || q.MassLimit != 70 || q.Volume != 30000 {
		t.Errorf("%+v", q)
	}
	if got := m.Asked(AskSolve, AskParity); len(got) != 3 || got[2].Kind != AskParity {
		t.Errorf("%d asked", len(got))
	}
}

// TestQuestionsRefused: each mistake is said with its cell and what to do.
func TestQuestionsRefused(t *testing.T) {
	for _, c := range []struct{ row, cell, says string }{
		{"break-even valuse,B,A,,,,,,,,,,,", "A2", `no study "break-even valuse"; did you mean break-even values?`},
		{",B,A,,,,,,,,,,,", "A2", "the row names no study; write one of cross-over, cross-over stability"},
		{"break-even values,D,A,,,,,,,,,,,", "B2", `"D" names no scenario, or more than one; write one of A baseline, B variant 1, C variant 2`},
		{"sensitivity,,A,,,,,,,,,,,", "B2", "sensitivity has no Scenario"},
		{"break-even values,B,,,,,,,,,,,,", "A2", "break-even values need either a scenario under Against or a piece cost under Target"},
		{"break-even values,B,A,,,,,,,,,,185,", "A2", "break-even values need either"},
		{"parity,B,B,,,,,,,,,,,", "C2", "held against itself"},
		{"parity,B,A,,,,,,,,,,185,", "M2", "Target says nothing for parity; clear the cell"},
		{"break-even values,B,A,Materials/M99/Base price,,,,,,,,,,", "D2", `"M99" matches no row of the sheet Materials`},
		{"break-even values,B,A,Base price,,,,,,,,,,", "D2", "names no input; write sheet/row/column"},
		{"break-even values,B,A,Materials/M04/Base price,0.1,5 kg,,,,,,,,", "F2", "wanted is money by mass"},
		{"break-even values,B,A,Materials/M04/Base price,0.9,0.1,,,,,,,,", "E2", "do not make a range"},
		{"break-even values,B,A,Materials/M04/Base price,0.9,,,,,,,,,", "E2", "fill both"},
		{"break-even values,B,A,Materials/M04/Base price,case.interest_rate,2,,,,,,,,", "E2", ""},
		{"least-cost map,,,Annual volume,,,1,Case/Interest rate,,,,,,", "G2", "write one from 2 to 100"},
		{"least-cost map,,,Annual volume,,,2.5,Case/Interest rate,,,,,,", "G2", "no whole number"},
		{"least-cost map,,,Annual volume,,,,,,,,,,", "H2", "least-cost map has no Second input"},
		{"least-cost map,\"A,X\",,Annual volume,,,,Case/Interest rate,,,,,,", "B2", `"X" names no scenario`},
		{"sensitivity,B,,,,,,,,,,-5,,", "L2", "above 0"},
		{"cross-over,,,,0.5,100,,,,,,,,", "E2", "whole annual volumes from 1 to 10,000,000"},
		{"cross-over,,,,100,,,,,,,,,", "F2", "cross-over has no To"},
		{"cross-over,,,,100,20000000,,,,,,,,", "E2", "from 1 to 10,000,000"},
		{"break-even values,B,,,1,2,,,,,,,180,", "E2", "say nothing without an Input"},
		{"scenario comparison,,Z,,,,,,,,,,,", "C2", `"Z" names no scenario`},
		{"least-cost combination,A,,,,,,,,,,,,,3 m", "O2", "wanted is mass"},
		{"break-even values,A,,,,,,,,,,,180,,70", "O2", "Mass limit says nothing for break-even values"},
	} {
		m := asks(t, studiesHead+filledUp(c.row))
		var found []string
		for _, d := range studyFindings(t, m) {
			found = append(found, d.Place.Cell()+": "+d.Summary+"; "+d.Help)
		}
		if len(m.questions) > 0 || len(found) != 1 || !strings.HasPrefix(found[0], c.cell+": ") || !strings.Contains(found[0], c.says) {
			t.Errorf("%s: %d questions, %q; wanted one finding at %s that says %q", c.row, len(m.questions), found, c.cell, c.says)
		}
	}
}

// filledUp gives a row as many cells as the heading has; a comma between quotation marks parts none.
func filledUp(row string) string {
	quoted := 0
	if parts := strings.Split(row, `"`); len(parts) == 3 {
		quoted = strings.Count(parts[1], ",")
	}
	return row + strings.Repeat(",", strings.Count(studiesHead, ",")-strings.Count(row, ",")+quoted) + "\n"
}

// TestQuestionHeadings: a heading that is nearly one's name is said, a unit is kept to, and without Study there is nothing
// to read.
func TestQuestionHeadings(t *testing.T) {
	for _, c := range []struct{ head, row, says string }{
		{"Study,Scenaro,Against\n", "sensitivity,,\n", `heading "Scenaro" is no column of this sheet`},
		{"Scenario,Against\n", "B,A\n", `the sheet has no column "Study"`},
		{"Study,Scenario,Target [kg]\n", "break-even values,B,180\n", `heading "Target [kg]": the unit is mass`},
	} {
		m := asks(t, c.head+c.row)
		if e := studyFindings(t, m); len(e) == 0 || !strings.Contains(e[0].Summary, c.says) {
			t.Errorf("%q: %v", c.head, e)
		}
	}
	m := asks(t, "Study,Against,From,To,Annual volume [1/month],Pointz\ncross-over,,48000 1/yr,60000,,\nscenario comparison,B,,,,\nscenario "+
		"comparison,C,,,,\ncross-over stability,,1000,2000,,\n")
	if len(m.questions) != 3 || m.questions[0].First.From != 48000 || m.questions[0].First.To != 60000 || m.questions[1].Against.Name != "B variant 1" {
		t.Errorf("%d questions, %v", len(m.questions), m.Diagnostics)
	}
	if f := studyFindings(t, m); len(f) != 2 || !strings.Contains(f[0].Summary+f[1].Summary, "scenario comparison stands twice") ||
		!strings.Contains(f[0].Summary+f[1].Summary, "Pointz") {
		t.Errorf("%v", f)
	}
	if m := asks(t, "Study,Scenario,Target [USD]\nbreak-even values,B,180\n"); len(studyFindings(t, m)) != 1 {
		t.Error("a currency without a rate is taken")
	}
	if m := asks(t, "Study,Scenario,Target\nbreak-even values,B,180 EUR\n"); len(m.questions) != 1 || m.questions[0].Target != 180 {
		t.Error(m.Diagnostics)
	}
}

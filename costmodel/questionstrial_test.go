package costmodel

import (
	"math"
	"strings"
	"testing"
)

const trialStudiesHead = "Study,Scenario,Against,Part,Grades,Gauges [mm],Base grade,Base gauge [in],Annual volume [1/yr],Points\n"

// TestTrialQuestion: a trial matrix arrives as it is meant; a cell holds one gauge or several.
func TestTrialQuestion(t *testing.T) {
	m := asks(t, trialStudiesHead+
		"Trial matrix,A,,A01,\"M01, M02;M05\",0.7; 0.75 ;0.9 mm,M05,0.03,40000,\n"+
		"trial matrix,B,,B05,,1.6,,,,\n"+
		"trial matrix,B,,B05,M07,\"1.6, 0.002 m\",,,,\n")
	if f := studyFindings(t, m); len(f) > 0 || len(m.Asked(AskTrial)) != 3 {
		t.Fatal(len(m.questions), f)
	}
	q := m.questions[0]
	if strings.Join(q.Trial.Grades, " ") != "M01 M02 M05" || len(q.Trial.Gauges) != 3 || !SameGauge(q.Trial.Gauges[2], 0.0009) || q.Trial.Part != "A01" ||
		q.Trial.BaseGrade != "M05" || math.Abs(q.Trial.BaseGauge-0.000762) > 1e-15 || q.Volume != 40000 || q.Scenarios[0].Name != "A baseline" {
		t.Errorf("%+v", q.Trial)
	}
	if q := m.questions[1].Trial; len(q.Gauges) != 1 || q.Gauges[0] != 0.0016 || len(q.Grades) != 0 || !math.IsNaN(q.BaseGauge) {
		t.Errorf("%+v", q)
	}
	if q := m.questions[2].Trial; len(q.Gauges) != 2 || q.Gauges[1] != 0.002 {
		t.Errorf("%+v", q)
	}
}

// TestTrialQuestionRefused: each mistake is said with its cell.
func TestTrialQuestionRefused(t *testing.T) {
	for _, c := range []struct{ row, cell, says string }{
		{"trial matrix,,,A01,,,,,,", "B2", "trial matrix has no Scenario"},
		{"trial matrix,A,,,,,,,,", "D2", "trial matrix has no Part"},
		{"trial matrix,A,B,A01,,,,,,", "C2", "Against says nothing for trial matrix"},
		{"trial matrix,A,,A01,,,,,,5", "J2", "Points says nothing for trial matrix"},
		{"sensitivity,A,,A01,,,,,,", "D2", "Part says nothing for sensitivity"},
		{"trial matrix,A,,X01,,,,,,", "D2", `part "X01" is not in the sheet Parts`},
		{"trial matrix,A,,A01,M01;M77,,,,,", "E2", `material "M77" is not in the sheet Materials`},
		{"trial matrix,A,,A01,M01;M01,,,,,", "E2", "Grades has M01 twice"},
		{`trial matrix,A,,A01,,"0,75",,,,`, "F2", "a comma between figures may be a decimal mark"},
		{"trial matrix,A,,A01,,0.75; 0,,,,", "F2", "Gauges is 0 mm, but it must be above 0"},
		{"trial matrix,A,,A01,,0.75; thick,,,,", "F2", `"thick" is no number`},
		{"trial matrix,A,,A01,,0.75; 0.75 mm,,,,", "F2", "Gauges has 0.75 mm twice"},
		{"trial matrix,A,,A01,,3 kg,,,,", "F2", "wanted is length"},
		{"trial matrix,A,,A01,,,M77,,,", "G2", `material "M77" is not`},
		{"trial matrix,A,,A01,,,,-1,,", "H2", "but it must be above 0"},
		{"trial matrix,A,,A01,,,,,-5,", "I2", "above 0"},
	} {
		m := asks(t, trialStudiesHead+c.row+"\n")
		var found []string
		for _, d := range studyFindings(t, m) {
			found = append(found, d.Place.Cell()+": "+d.Summary+"; "+d.Help)
		}
		if len(m.questions) > 0 || len(found) != 1 || !strings.HasPrefix(found[0], c.cell+": ") || !strings.Contains(found[0], c.says) {
			t.Errorf("%s: %d questions, %q; wanted one finding at %s that says %q", c.row, len(m.questions), found, c.cell, c.says)
		}
	}
	if m := asks(t, "Study,Scenario,Part,Gauges [kg]\ntrial matrix,A,A01,1\n"); len(studyFindings(t, m)) != 1 {
		t.Errorf("gauges in kg: %v", m.Diagnostics)
	}
}

package costmodel

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// The tests of this file stand on both sides of each bound of the sheets: the last value that is taken, the first that is not.

// findings are the findings of a case in some sheet, without their file.
func findings(t *testing.T, c csvCase, sheet string) (*Model, []string) {
	t.Helper()
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	m := New(c.read(t), lib)
	var out []string
	for _, d := range m.Diagnostics {
		if d.Place.Sheet == sheet {
			out = append(out, d.Place.Cell()+" "+d.Summary)
		}
	}
	return m, out
}

func TestVolumeBounds(t *testing.T) {
	const outside = "a range needs From below To and 2 to 100,000 Points"
	for _, c := range []struct {
		row, finding string
		volumes      []float64
	}{
		{",1000,4000,2", "", []float64{1000, 4000}},
		{",1000,4000,3", "", []float64{1000, 2000, 4000}},
		{",1000,4000,1", "D2 " + outside, nil},
		{",1000,1001,2", "", []float64{1000, 1001}},
		{",1000,1000,2", "D2 " + outside, nil},
		{",1000,1002,100000", "", []float64{1000, 1001, 1002}},
		{",1000,1002,100001", "D2 " + outside, nil},
		{"1,,,", "", []float64{1}},
		{"0,,,", "A2 the annual volume must be a number above 0", nil},
		{"-1,,,", "A2 the annual volume must be a number above 0", nil},
	} {
		s := sampleTables(t)
		s["Volumes"] = "Annual volume [1/yr],From [1/yr],To [1/yr],Points\n" + c.row + "\n"
		m, got := findings(t, s, "Volumes")
		if strings.Join(got, "; ") != c.finding || !slices.Equal(m.Volumes, c.volumes) {
			t.Errorf("%s: %q, %v; want %q, %v", c.row, got, m.Volumes, c.finding, c.volumes)
		}
	}
}

func TestStudyBounds(t *testing.T) {
	const table = "two-way table,A,,Case/Interest rate,%s,%s,%s,Plants/Van plant/Direct labour rate,,,,,,,\n"
	const crossover = "cross-over,,,,%s,%s,%s,,,,,,,,\n"
	for _, c := range []struct{ row, from, to, points, finding string }{
		{table, "5", "15", "2", ""},
		{table, "5", "15", "1", "G2 Points is no whole number"},
		{table, "5", "15", "100", ""},
		{table, "5", "15", "101", "G2 Points is no whole number"},
		{table, "5", "5.001", "", ""},
		{table, "5", "5", "", "E2 From and its end do not make a range"},
		{crossover, "1", "10000000", "", ""},
		{crossover, "0", "10000000", "", "E2 a cross-over is looked for at whole annual volumes from 1 to 10,000,000"},
		{crossover, "1", "10000001", "", "E2 a cross-over is looked for at whole annual volumes from 1 to 10,000,000"},
	} {
		s := sampleTables(t)
		s["Studies"] = strings.Replace(studiesHead, "Own remarks", "Note", 1) + fmt.Sprintf(c.row, c.from, c.to, c.points)
		if _, got := findings(t, s, "Studies"); strings.Join(got, "; ") != c.finding {
			t.Errorf("%s to %s, %s points: %q, want %q", c.from, c.to, c.points, got, c.finding)
		}
	}
}

// TestPlausibleBounds: working days are plausible from 150 to 365 per year.
func TestPlausibleBounds(t *testing.T) {
	for days, finding := range map[string]string{"150": "", "365": "", "149.9": "C2 Working days is 149.9 1/yr, outside the plausible 150 to 365 1/yr",
		"365.1": "C2 Working days is 365.1 1/yr, outside the plausible 150 to 365 1/yr"} {
		s := sampleTables(t)
		s.replace(t, "Plants", "Working days,1/yr,240", "Working days,1/yr,"+days)
		if _, got := findings(t, s, "Plants"); strings.Join(got, "; ") != finding {
			t.Errorf("%s days: %q, want %q", days, got, finding)
		}
	}
}

func TestScenarioVolumeBounds(t *testing.T) {
	for volume, finding := range map[string]string{"1": "", "0.001": "", "0": "D2 Annual volume is 0 1/yr, but it must be above 0"} {
		s := sampleTables(t)
		s.replace(t, "Scenarios", ",,Annual volume [1/yr],60000,", ",,Annual volume [1/yr],"+volume+",")
		if _, got := findings(t, s, "Scenarios"); strings.Join(got, "; ") != finding {
			t.Errorf("%s per year: %q, want %q", volume, got, finding)
		}
	}
}

func TestRateBounds(t *testing.T) {
	for rate, finding := range map[string]string{"0.0001": "", "0": "B2 the exchange rate of CZK must be a number above 0",
		"-1": "B2 the exchange rate of CZK must be a number above 0"} {
		s := sampleTables(t)
		s["Currencies"] = "Code,Rate\nCZK," + rate + "\n"
		if _, got := findings(t, s, "Currencies"); strings.Join(got, "; ") != finding {
			t.Errorf("rate %s: %q, want %q", rate, got, finding)
		}
	}
}

// TestCurveBounds: a curve's X rises from point to point, by however little.
func TestCurveBounds(t *testing.T) {
	for x, finding := range map[string]string{"1.0001": "", "1": "B3 curve press: X does not rise", "0.9": "B3 curve press: X does not rise"} {
		s := sampleTables(t)
		s["Tables"] = "Curve,X,X unit,Y,Y unit\npress,1,mm,5,s\npress," + x + ",mm,6,s\n"
		if _, got := findings(t, s, "Tables"); strings.Join(got, "; ") != finding {
			t.Errorf("X %s: %q, want %q", x, got, finding)
		}
	}
}

package costmodel

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestUncertainty reads the sheet Uncertainty: bare numbers in the unit of the input's cells, numbers with a unit, units in
// the brackets of Column, either order for Plants.
func TestUncertainty(t *testing.T) {
	c := sampleTables(t)
	c["Uncertainty"] = `Sheet,Row,Column,Distribution,Low,Likely,High,Source
Materials,M04,Base price,triangular,0.8,0.86,0.95,invented
Materials,M01,Base price [EUR/t],PERT,700,,850,invented
Operations,A01/20,Load and process time,Lognormal,6 s,0.11 min,8 s,invented
Plants,Direct labour rate,Van plant,uniform,34,38,42,invented
Plants,Van plant,Shifts,discrete,1,2,3,invented
Case,,Interest rate,,7,,11,invented
,,,,,,,
Scenarios,,Annual volume,triangular,40000,60000,70000,invented
Operations,B01/20,Reject rate,triangular,1,1.8,4,invented
`
	list, ds := c.model(t).Uncertainty()
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	want := []string{
		"Materials/M04/Base price triangular 0.8 0.86 0.95",
		"Materials/M01/Base price PERT 0.7 - 0.85",
		"Operations/A01/20/Load and process time lognormal 6 6.6 8",
		"Plants/Van plant/Direct labour rate uniform 0.00944444 0.0105556 0.0116667", // EUR/s
		"Plants/Van plant/Shifts discrete 1 2 3",
		"Case/Interest rate  0.07 - 0.11",
		"Scenarios/Annual volume triangular 40000 60000 70000",
		"Operations/B01/20/Reject rate triangular 0.01 0.018 0.04",
	}
	var got []string
	for _, u := range list {
		likely := "-"
		if u.HasLikely {
			likely = fmt.Sprintf("%.6g", u.Likely)
		}
		got = append(got, fmt.Sprintf("%s %s %.6g %s %.6g", u.Input, u.distribution, u.Low, likely, u.High))
	}
	if !slices.Equal(got, want) {
		t.Errorf("read\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if place := list[1].place.String(); place != "tables Uncertainty!A3" {
		t.Errorf("the second row stands at %s", place)
	}
}

// TestUncertaintyFaults finds every fault of the sheet at its cell, and changes nothing in the model.
func TestUncertaintyFaults(t *testing.T) {
	const head = "Sheet,Row,Column,Distribution,Low,Likely,High\n"
	for row, want := range map[string]string{
		"Materials,M4,Base price,,1,,2": `Uncertainty!B2: "M4" matches no row`,
		"Materials,M04,Base prise,,1,,2": "Uncertainty!C2: \"Base prise\" is no quantity of the sheet Materials; did " +
			"you mean Base price?",
		"Materials,M04,Base price,triangulr,1,,2":              `Uncertainty!D2: distribution "triangulr" is not a choice; did you mean triangular?`,
		"Materials,M04,Base price,bell,1,,2":                   "write one of triangular, PERT, lognormal, uniform, discrete",
		"Materials,M04,Base price,,2,,1":                       "Uncertainty!E2: low of Materials/M04/Base price is not below high",
		"Materials,M04,Base price,,1,,1":                       "Uncertainty!E2: low of Materials/M04/Base price is not below high",
		"Materials,M04,Base price,,1,3,2":                      "Uncertainty!F2: likely of Materials/M04/Base price does not lie between low and high",
		"Materials,M04,Base price,,1,,":                        "Uncertainty!G2: High of Materials/M04/Base price is missing",
		"Materials,M04,Base price,,1 kg,,2":                    `Uncertainty!E2: Base price "1 kg" is mass`,
		"Materials,M04,Base price,lognormal,0,,2":              "Uncertainty!E2: low of Materials/M04/Base price is not above 0",
		"Materials,M04,Base price,,extras * 2,,2":              "Uncertainty!E2: Low of Materials/M04/Base price is an expression",
		"Machines,E01,Equipment allocation,discrete,1,,2":      "Uncertainty!C2: Equipment allocation is a choice",
		"Case,,Interest rate,,1,,2\nCase,,interest rate,,1,,3": "Uncertainty!A3: Case/Interest rate stands twice",
		"Volumes,,From,,1,,2":                                  `Uncertainty!A2: there is no input sheet "Volumes"`,
		"Operations,A01/20,Load and process time,,x,,2":        "Uncertainty!E2:1: Load and process time",
		"Plants,Shifts,Van plnt,,1,,2":                         "Uncertainty!C2: \"Van plnt\" matches no plant of the sheet Plants; did you mean Van plant?",
		"Plants,Van plant,Shift,,1,,2":                         "Uncertainty!C2: \"Shift\" is no quantity of the sheet Plants; did you mean Shifts?",
		"Plants,Shift,Van plant,,1,,2":                         "Uncertainty!B2: \"Shift\" is no quantity of the sheet Plants; did you mean Shifts?",
		"Material,M04,Base price,,1,,2":                        "Uncertainty!A2: there is no input sheet \"Material\"; did you mean Materials?",
		",M04,Base price,,1,,2":                                "Uncertainty!A2: the row names no sheet; fill the cell or clear the row",
		"Materials,M04,,,1,,2":                                 "Uncertainty!C2: the row names no column",
		",,,,1,,2":                                             "Uncertainty!A2: the row names no sheet",
		"Materials,,Base price,,1,,2":                          "Uncertainty!B2: the input names no row",
		"Case,M04,Interest rate,,1,,2":                         "Uncertainty!B2: the sheet Case has no rows to choose from",
		"Materials,M04,Base price [kg],,1,,2":                  "Uncertainty!C2: \"Base price [kg]\": the unit is",
		"Materials,M04,Base price,triangular,1e400,,2":         "Uncertainty!E2",
		"Materials,M04,Base price,triangular,1,,\"2,5\"":       "Uncertainty!G2: Base price \"2,5\"",
	} {
		c := sampleTables(t)
		c["Uncertainty"] = head + row + "\n"
		c.replace(t, "Parts", "M01,0.75,1760", "M01,75,1760") // a warning of the model's own
		m := c.model(t)
		before := len(m.Diagnostics)
		_, ds := m.Uncertainty()
		if !ds.HasErrors() || !strings.Contains(fmt.Sprint(ds), want) {
			t.Errorf("%s: %v, want %s", row, ds, want)
		}
		if before != 1 || len(m.Diagnostics) != before {
			t.Errorf("%s: the model has %d findings, before %d", row, len(m.Diagnostics), before)
		}
	}
	c := sampleTables(t)
	c["Uncertainty"] = "Sheet,Row,Column,Low\nCase,,Interest rate,7\n"
	if _, ds := c.model(t).Uncertainty(); !strings.Contains(fmt.Sprint(ds), `no column "High"`) {
		t.Error(ds)
	}
	c["Uncertainty"] = "Sheet,Row,Column,Low,Likly,High\nCase,,Interest rate,7,8,9\n"
	if _, ds := c.model(t).Uncertainty(); !strings.Contains(fmt.Sprint(ds), `Uncertainty!E1: heading "Likly" is not known; did you mean Likely?`) {
		t.Error(ds)
	}
	if list, ds := sampleTables(t).model(t).Uncertainty(); list != nil || ds != nil {
		t.Errorf("without the sheet: %v, %v", list, ds)
	}
}

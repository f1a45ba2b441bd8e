package costmodel

import (
	"strings"
	"testing"

	"piececost/costmodel/table"
)

// percentCase is a small case with the cells of one column of Parts, trimmed shares, each a number with its format.
func percentCase(t *testing.T, heading string, cells []table.Value) table.Diagnostics {
	t.Helper()
	c := csvCase{
		"Case":       "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,8\n",
		"Plants":     "Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,2\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,35\n",
		"Materials":  "Material,Density [kg/m3],Base price [EUR/kg]\nS1,7850,1\n",
		"Machines":   "Machine,Price [EUR],Economic life [yr]\nM1,1000,8\n",
		"Operations": "Part,Operation,Process,Machine,Load and process time [s],Set-up time [h],Batch size\nP,10,timed operation,M1,1,0,1\n",
		"Scenarios":  "Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],1000\n",
	}
	parts := "Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]," + heading + "\n"
	for i := range cells {
		parts += string(rune('P'+i)) + ",sheet,S1,1,100,100,\n"
	}
	c["Parts"] = parts
	data := c.read(t)
	for i, v := range cells {
		cell := &data.Table("Parts").Rows[i].Cells[6]
		v.Place = cell.Place
		if v.Place.Row == 0 {
			v.Place = table.Place{File: "tables", Sheet: "Parts", Row: i + 2, Col: 7}
		}
		*cell = v
	}
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	return New(data, lib).Diagnostics
}

// TestPercentReadInTwoWays holds when one line says both readings of plain numbers under [%], and when none does. The
// plausible range of the trim loss share is 0 to 60 %, that of the nesting utilisation 50 to 100 %.
func TestPercentReadInTwoWays(t *testing.T) {
	plain := func(v float64) table.Value { return table.Value{Kind: table.Number, Number: v} }
	percent := func(v float64) table.Value { return table.Value{Kind: table.Number, Number: v, Percent: true} }
	for _, c := range []struct {
		name, heading string
		cells         []table.Value
		want          string // "" for no warning
	}{
		{"mixed", "Trim loss share [%]", []table.Value{percent(0.12), plain(0.04), plain(0.14), percent(0.2)},
			"Parts!G3: warning: Trim loss share is read as 0.04 %; formatted as percent it would be 4 % (not formatted as percent: G3, G4); " +
				"format the cells as percent if 4 % is meant; write 0.04 % in the cell if that is"},
		{"mixed, fraction not plausible", "Trim loss share [%]", []table.Value{percent(0.12), plain(14), plain(0.9), plain(0)}, ""},
		{"all plain, both plausible", "Trim loss share [%]", []table.Value{plain(0.5), plain(0.4)}, ""},
		{"all percent", "Trim loss share [%]", []table.Value{percent(0.5), percent(0.004)}, ""},
		{"only the fraction is plausible", "Nesting utilisation [%]", []table.Value{plain(0.88), plain(0.9)},
			"Nesting utilisation is read as 0.88 %; formatted as percent it would be 88 % (not formatted as percent: G2, G3)"},
		{"plain and right", "Nesting utilisation [%]", []table.Value{plain(88), plain(90)}, ""},
		{"in fractions the format says nothing", "Trim loss share [1]", []table.Value{plain(0.04), percent(0.04)}, ""},
		{"text", "Nesting utilisation [%]", []table.Value{{Kind: table.Text, Text: "0.88", Percent: true}},
			"read as 0.88 %; formatted as percent it would be 88 %"},
		{"formula in a percent cell", "Trim loss share [%]", []table.Value{percent(0.1), percent(0.2),
			{Kind: table.Text, Text: "gauge > 1 ? 0.5 : 2", Percent: true}},
			"Parts!G4: warning: Trim loss share is a formula in a cell formatted as percent, so its plain numbers are read as fractions: " +
				"0.5 as 50 %, not as 0.5 % (G4)"},
		{"formula with units in a percent cell", "Trim loss share [%]", []table.Value{percent(0.1),
			{Kind: table.Text, Text: `gauge > "1 mm" ? "0.5 %" : "2 %"`, Percent: true}}, ""},
		{"formula in a plain cell", "Trim loss share [%]", []table.Value{percent(0.1), {Kind: table.Text, Text: `gauge > "1 mm" ? 0.5 : 2`}}, ""},
		{"text with its unit", "Trim loss share [%]", []table.Value{percent(0.1), {Kind: table.Text, Text: "0.04 %"}}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, d := range percentCase(t, c.heading, c.cells) {
				if d.Code == "percent" || d.Code == "range" && strings.Contains(d.Summary, "share") && c.want != "" ||
					d.Code == "range" && strings.Contains(d.Summary, "utilisation") && c.want != "" {
					got = append(got, d.String())
				}
			}
			switch {
			case c.want == "" && len(got) > 0:
				t.Errorf("%v, want nothing", got)
			case c.want != "" && (len(got) != 1 || !strings.Contains(got[0], c.want)):
				t.Errorf("%q, want once %q", got, c.want)
			}
		})
	}
}

// TestPercentOfChanges holds that a plain change of a percent cell is said too.
func TestPercentOfChanges(t *testing.T) {
	c := sampleTables(t)
	c.replace(t, "Scenarios", ",,Description", "Parts,A01,Trim loss share,0.12,0.13,,\n,,Description")
	data := c.read(t)
	parts := data.Table("Parts")
	for i, col := range parts.Columns {
		if name, _, _ := table.SplitHeading(col.Heading); name != "trim_loss_share" {
			continue
		}
		for r := range parts.Rows {
			if v := &parts.Rows[r].Cells[i]; v.Kind == table.Number {
				v.Number, v.Percent = v.Number/100, true
			}
		}
	}
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, d := range New(data, lib).Diagnostics {
		if d.Code == "percent" && d.Place.Sheet == "Scenarios" {
			found++
			if !strings.Contains(d.Summary, "0.12 %; formatted as percent it would be 12 %") || d.Place.Col != 4 {
				t.Error(d)
			}
		}
	}
	if found != 1 {
		t.Errorf("%d warnings, want 1", found)
	}
}

// TestInterestPerMonth holds that the two yearly readings of a rate per month are stated. 1.5 % a month is 18 % nominal and
// 19.56 % effective: the example of a credit card in texts of engineering economy (C. S. Park, Contemporary Engineering
// Economics, chapter on nominal and effective rates; from memory).
func TestInterestPerMonth(t *testing.T) {
	for _, c := range []struct{ unit, value, want string }{
		{"%/month", "1.5", "Interest rate is 1.5 % a month, which is 18 % per year without compound interest and 19.56 % with it"},
		{"1/month", "0.015", "Interest rate is 1.5 % a month, which is 18 % per year"},
		{"%/yr", "1.5 %/month", "Interest rate is 1.5 % a month, which is 18 % per year"},
		{"%/yr", "1.5 %/months", "Interest rate is 1.5 % a month, which is 18 % per year"},
		{"%/month", "1.5 %", "Interest rate is 1.5 % a month, which is 18 % per year"},
		{"%/yr", `""1.5 %/month"" * 12`, "Interest rate is given per month"},
		{"%/yr", "18", ""},
		{"%/yr", "18 %", ""},
		{"1/yr", "0.18", ""},
	} {
		t.Run(c.unit+" "+c.value, func(t *testing.T) {
			tables := sampleTables(t)
			tables.replace(t, "Case", "Interest rate,%/yr,9.0", "Interest rate,"+c.unit+`,"`+c.value+`"`)
			lib, err := libraryOfTests()
			if err != nil {
				t.Fatal(err)
			}
			got := ""
			for _, d := range New(tables.read(t), lib).Diagnostics.Errors() {
				got += d.String() + "\n"
			}
			if c.want == "" && got != "" || !strings.Contains(got, c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// TestPercentOfUncertainty holds that plain limits of a percent cell are said: 0.02 to 0.05 is 0.02 % to 0.05 %.
func TestPercentOfUncertainty(t *testing.T) {
	for low, want := range map[string]int{"0.02": 1, "2": 0} {
		c := sampleTables(t)
		c["Uncertainty"] = "Sheet,Row,Column,Low,High\nOperations,A01/10,Reject rate," + low + ",3\n"
		data := c.read(t)
		operations := data.Table("Operations")
		for i, col := range operations.Columns {
			if name, _, _ := table.SplitHeading(col.Heading); name != "reject_rate" {
				continue
			}
			for r := range operations.Rows {
				if v := &operations.Rows[r].Cells[i]; v.Kind == table.Number {
					v.Number, v.Percent = v.Number/100, true
				}
			}
		}
		lib, err := libraryOfTests()
		if err != nil {
			t.Fatal(err)
		}
		_, ds := New(data, lib).Uncertainty()
		found := 0
		for _, d := range ds {
			if d.Code == "percent" && d.Place.Cell() == "D2" {
				found++
			}
		}
		if found != want {
			t.Errorf("low %s: %v, want %d warnings", low, ds, want)
		}
	}
}

package scenarios

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel/quote"
)

// TestClauseByHand: Q3's clause runs from 2023-Q4 (mean 0.92) over 6.20 kg, both ways; its scrap of 0.15 kg from a mean of 0.8/3. In 2025-01 the
// list stands at 0.85 and 0.24. A notice of 12.00 is held against it.
func TestClauseByHand(t *testing.T) {
	a := askQuotes(t, quoteTables(t))
	months, err := a.Clause(a.Offers[2], 12)
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, m := range months {
		if m.Month != "2025-01" {
			continue
		}
		found = true
		change := 6.20*(0.85-0.92) - 0.15*(0.24-0.8/3)
		for name, got := range map[string][2]float64{"index": {m.Index, 0.85/0.92 - 1}, "change": {m.Change, change}, "price": {m.Price, 12.15 + change},
			"notice": {m.Notice, 12 - 12.15 - change}} {
			if math.Abs(got[0]-got[1]) > 1e-9 {
				t.Errorf("%s is %v, want %v", name, got[0], got[1])
			}
		}
	}
	if !found || months[0].Month != "2023-12" {
		t.Errorf("months %+v", months)
	}
	if _, err := a.Clause(a.Offers[1], 0); err == nil || !strings.Contains(err.Error(), "no base month") {
		t.Errorf("Q2 has no clause: %v", err)
	}
}

// TestClauseBounds: band, cap, share passed on, one way and none, each by hand on 1 kg at 1.00 in the base month.
func TestClauseBounds(t *testing.T) {
	for name, c := range map[string]struct {
		rows string
		list string
		want float64
	}{
		"within the band": {"Index band,%,5\nIndex clause,,both ways\n", "1.04", 0}, "beyond the band": {"Index band,%,5\nIndex clause,,both ways\n",
			"1.06", 0.06},
		"capped": {"Index cap,%,10\nIndex clause,,both ways\n", "1.25", 0.10}, "capped below": {"Index cap,%,10\nIndex clause,,both ways\n", "0.7", -0.10},
		"half passed on": {"Pass-through,%,50\nIndex clause,,both ways\n", "1.2", 0.10}, "one way up": {"Index clause,,one way\n", "1.2", 0.20},
		"one way down": {"Index clause,,one way\n", "0.8", 0}, "none": {"Index clause,,none\n", "1.2", 0}, "not stated": {"", "1.2", 0},
	} {
		files := withoutQuotes(t)
		quotes := "Quantity,Unit,Request,Q1\nCurrency,,,EUR\nPrice,currency,,15\nAnnual volume,1/yr,1000,1000\nPart,,B05,\nBase month,,,2025-01\n"
		for _, row := range strings.Split(strings.TrimSpace(c.rows), "\n") {
			if cells := strings.Split(row, ","); len(cells) == 3 {
				quotes += cells[0] + "," + cells[1] + ",," + cells[2] + "\n"
			}
		}
		files["quotes.csv"] = &fstest.MapFile{Data: []byte(quotes)}
		files["quote_lines.csv"] = &fstest.MapFile{Data: []byte("Quote,Line,Element,Quantity,Unit,Amount\nQ1,1,material,1,kg,1\n")}
		files["price_months.csv"] = &fstest.MapFile{Data: []byte("Material,Month,Base price,Scrap price\nM07,2025-01,1,0.2\nM07,2025-06," + c.list + ",0.2\n")}
		a := askQuotes(t, files)
		months, err := a.Clause(a.Offers[0], 0)
		if err != nil || len(months) != 2 {
			t.Fatalf("%s: %v, %v", name, months, err)
		}
		if math.Abs(months[1].Change-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", name, months[1].Change, c.want)
		}
	}
}

// TestChangeByHand: 0.2 kg more of a line at 1.33, 3 s more of one at 205 + 41 an hour with rejects of 1.6 %, and 10 % overhead on both.
func TestChangeByHand(t *testing.T) {
	files := quoteTables(t)
	files["quote_lines.csv"] = &fstest.MapFile{Data: []byte("Quote,Line,Element,Quantity,Unit,Rate,Time,Crew,Labour rate,Machine " +
		"rate,Reject,Surcharge,On,Amount\n" +
		"Q1,1,material,6.45,kg,1.33,,,,,,,,8.58\nQ1,2,process,,,,26,1,41,205,1.6,,,3.05\nQ1,3,overhead,,,,,,,,,10,\"1,2\",1.16\n" +
		"Q1,4,SG&A,,,,,,,,,5,1-3,0.64\n")}
	a := askQuotes(t, files)
	lines, total, err := a.Change(a.Offers[0], []quote.LineChange{{Line: "1", More: 0.2}, {Line: "2", More: 3, Seconds: true}})
	if err != nil {
		t.Fatal(err)
	}
	material, process := 0.2*1.33, 3*(205+41)/3600.0/(1-0.016)
	overhead := 0.10 * (material + process)
	want := []float64{material, process, overhead, 0.05 * (material + process + overhead)}
	sum := 0.0
	for i, w := range want {
		sum += w
		if i >= len(lines) || math.Abs(lines[i].Amount-w) > 1e-9 {
			t.Errorf("line %d: %v, want %v", i+1, lines, w)
		}
	}
	if math.Abs(total-sum) > 1e-9 {
		t.Errorf("%v, want %v", total, sum)
	}
	if _, _, err := a.Change(a.Offers[0], []quote.LineChange{{Line: "3", More: 1}}); err == nil {
		t.Error("a line without a rate has a price")
	}
}

package costmodel

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// TestMovedAsChanged holds that rows moved together by a factor or a difference cost what the same change in the sheet
// Scenarios makes them cost: a list, all rows, rows that a scenario changes already, expressions that see the volume, and
// equations of the library.
func TestMovedAsChanged(t *testing.T) {
	for _, of := range []struct {
		sheet, row, column string
		by                 Move
		value              float64 // coherent
		change             string
	}{
		{"Materials", "*", "Base price", ByFactor, 1.1, "base * 1.1"},
		{"Materials", "* except M04, M05", "Base price", ByDifference, 0.25, `base + ""0.25 EUR/kg""`},
		{"Machines", "*", "Price", ByFactor, 0.8, "base * 0.8"},
		{"Parts", "A01, A04", "Gauge", ByFactor, 1.2, "base * 1.2"},
		{"Operations", "A01", "Load and process time", ByFactor, 1.3, "base * 1.3"},
		{"Operations", "*", "Reject rate", ByDifference, 0.01, `base + ""1 %""`},
		{"Operations", "A04/10, S01, C01/10", "Batches [1/yr]", ByFactor, 1.5, "base * 1.5"},
		{"Operations", "A01, FRAME_A", "Cycle time [s]", ByFactor, 1.02, "base * 1.02"},
	} {
		for _, volume := range []float64{60000, 31000} {
			c := sampleTables(t)
			c.replace(t, "Operations", "E02,,,6.5,1", "E02,,,scenario.annual_volume > 50000 ? 6.5 : 9,1")
			plain := c.model(t)
			c.replace(t, "Scenarios", ",,Description", fmt.Sprintf("%s,\"%s\",%s,\"%s\",,,\n,,Description", of.sheet, of.row, of.column, of.change))
			changed := c.model(t)
			name := fmt.Sprintf("%s/%s/%s %s at %v", of.sheet, of.row, of.column, of.change, volume)
			want := mustCompile(t, changed, changed.Scenarios[0], CompileOptions{}).Detail(volume).Scenario().Must("piece_cost")
			before := mustCompile(t, plain, plain.Scenarios[0], CompileOptions{}).Detail(volume).Scenario().Must("piece_cost")
			in := Input{Sheet: of.sheet, Row: of.row, Column: of.column, By: of.by}
			l, err := mustCompile(t, plain, plain.Scenarios[0], CompileOptions{Vary: []Input{in}}).Lanes("piece_cost")
			if err != nil {
				t.Fatal(err)
			}
			l.Volumes()[0], l.Volumes()[1] = volume, volume
			l.Input(0)[0] = of.value
			got := l.Block(2)[0]
			near(t, name, got[0], want, 1e-12)
			near(t, name+", as it stands", got[1], before, 1e-12)
			v, d := mustCompile(t, plain, plain.Scenarios[0], CompileOptions{}).InputOf(in)
			if d != nil {
				t.Fatal(d)
			}
			p := mustCompile(t, plain, plain.Scenarios[0], CompileOptions{})
			fixed, ds := p.With(p.FixInput(&v, of.value)...)
			if fixed == nil {
				t.Fatal(ds)
			}
			near(t, name+", fixed", fixed.Detail(volume).Scenario().Must("piece_cost"), want, 1e-12)
			if math.Abs(want-before) < 1e-6 {
				t.Errorf("%s changes nothing: %v", name, want)
			}
		}
	}
}

// TestMovedVolume: a factor on the annual volume is that of each scenario's own.
func TestMovedVolume(t *testing.T) {
	m := sampleTables(t).model(t)
	s := m.Scenarios[0]
	in := Input{Sheet: "Scenarios", Column: "Annual volume", By: ByFactor}
	want := mustCompile(t, m, s, CompileOptions{}).Detail(s.Volume * 0.7).Scenario().Must("piece_cost")
	near(t, "volume times 0.7", costAt(t, m, s, in, 0.7), want, 1e-12)
}

// TestUncertainTogether reads rows of the sheet Uncertainty that move several rows, and gives a cell that two of them name to
// the more specific one.
func TestUncertainTogether(t *testing.T) {
	const head = "Sheet,Row,Column,Distribution,Low,Likely,High\n"
	for name, of := range map[string]struct{ rows, want string }{
		"factor":               {"Materials,*,Base price,PERT,base * 0.9,base,1.1 * base", "Materials/*/Base price factor 0.9 1 1.1"},
		"divided, in brackets": {"Materials,*,Base price,,base / 2,,(base * 3) / 2", "Materials/*/Base price factor 0.5 - 1.5"},
		"difference": {"Materials,\"M01, M04\",Base price,,base - 0.1,,\"base + \"\"200 EUR/t\"\"\"",
			"Materials/M01, M04/Base price difference -0.1 - 0.2"},
		"difference in %": {"Operations,A01,Reject rate,,\"base - \"\"0.5 %\"\"\",base,\"base + \"\"1 %\"\"\"",
			"Operations/A01/Reject rate difference -0.005 0 0.01"},
		"one row":      {"Materials,M04,Base price,,base * 0.9,,base * 1.2", "Materials/M04/Base price factor 0.9 - 1.2"},
		"arithmetic":   {"Materials,M04,Base price,,0.5 + 0.25,,2 * 3", "Materials/M04/Base price  0.75 - 6"},
		"plants":       {"Plants,Direct labour rate,*,,base * 0.9,,base * 1.1", "Plants/*/Direct labour rate factor 0.9 - 1.1"},
		"equal values": {"Plants,*,Building economic life,,25,,35", "Plants/*/Building economic life  25 - 35"},
		"the more specific": {"Materials,*,Base price,,base * 0.9,,base * 1.1\nMaterials,M04,Base price,,0.7,,1\n" +
			"Materials,\"M01, M04\",Base price,,base * 0.5,,base * 2",
			"Materials/* except M01, M04/Base price factor 0.9 - 1.1|Materials/M04/Base price  0.7 - 1|Materials/M01/Base price factor 0.5 - 2"},
		"beside its own except": {"Materials,* except M05,Base price,,base * 0.9,,base * 1.1\nMaterials,M04,Base price,,0.7,,1",
			"Materials/* except M05, M04/Base price factor 0.9 - 1.1|Materials/M04/Base price  0.7 - 1"},
		"other quantities": {"Materials,*,Base price,,base * 0.9,,base * 1.1\nMaterials,*,Density,,base * 0.99,,base * 1.01",
			"Materials/*/Base price factor 0.9 - 1.1|Materials/*/Density factor 0.99 - 1.01"},
		"a tie": {"Materials,\"M01, M04\",Base price,,base * 0.9,,base * 1.1\nMaterials,\"M04, M05\",Base price,,base * 0.5,,base * 2",
			"tables Uncertainty!B3: Materials/M04, M05/Base price and Materials/M01, M04/Base price name the same cell and are equally specific; " +
				"delete one or name the row alone in one of them [the other at tables Uncertainty!B2]"},
		"nothing left": {"Materials,\"M01, M04\",Base price,,base * 0.9,,base * 1.1\nMaterials,M01,Base price,,0.7,,1\n" +
			"Materials,M04,Base price,,0.7,,1",
			"tables Uncertainty!B2: each row that Materials/M01, M04/Base price names has a more specific row in this sheet; delete this one"},
		"different values": {"Materials,*,Base price,,0.7,,1",
			"tables Uncertainty!E2: the rows of Materials/*/Base price hold different values; name one row, or write Low and High as base * a factor " +
				"[one at tables Materials!E2] [another at tables Materials!E3]"},
		"of two kinds": {"Materials,*,Base price,,base * 0.9,,base + 0.1",
			"tables Uncertainty!E2: low, likely and high of Materials/*/Base price are not written alike; write all of them as numbers, as base * a " +
				"factor, or as base + a difference"},
		"number and base": {"Materials,M04,Base price,,0.9,,base * 1.1",
			"tables Uncertainty!E2: low, likely and high of Materials/M04/Base price are not written alike"},
		"a square": {"Materials,*,Base price,,base * 0.9,,base * base / 2", "tables Uncertainty!G2"},
		"a limit": {"Materials,*,Base price,,\"max(base, 1)\",,base * 2",
			"tables Uncertainty!E2: Low of Materials/*/Base price is an expression that is no multiple of base and no sum with it"},
		"other names": {"Materials,*,Base price,,base + extras,,base * 2", "tables Uncertainty!E2: Low of Materials/*/Base price is an expression"},
		"order":       {"Materials,*,Base price,,base * 1.1,,base * 0.9", "tables Uncertainty!E2: low of Materials/*/Base price is not below high"},
		"wrong unit":  {"Materials,*,Base price,,\"base - \"\"1 kg\"\"\",,base", "tables Uncertainty!E2:"},
		"no row":      {"Materials,\"M77, M88\",Base price,,base * 0.9,,base", "tables Uncertainty!B2: \"M77, M88\" matches no row"},
	} {
		t.Run(name, func(t *testing.T) {
			c := sampleTables(t)
			c["Uncertainty"] = head + of.rows + "\n"
			list, ds := c.model(t).Uncertainty()
			var got []string
			for _, u := range list {
				likely := "-"
				if u.HasLikely {
					likely = fmt.Sprintf("%.6g", u.Likely)
				}
				got = append(got, fmt.Sprintf("%s %s %.6g %s %.6g", u.Input, u.Input.By, u.Low, likely, u.High))
			}
			text := strings.Join(got, "|")
			if strings.HasPrefix(of.want, "tables ") {
				text = strings.TrimSuffix(fmt.Sprint(ds), "]")
				text = strings.TrimPrefix(text, "[")
				if !strings.HasPrefix(text, strings.TrimSuffix(of.want, "]")) || len(ds) != 1 {
					t.Errorf("found %v\nwant %s", ds, of.want)
				}
				return
			}
			if text != of.want || len(ds) > 0 {
				t.Errorf("read %s %v\nwant %s", text, ds, of.want)
			}
		})
	}
}

// TestUncertainRowsOfLikeKeys: a more specific row takes its own cells only, where its key begins another key or has a
// comma, whatever words are left for the others.
func TestUncertainRowsOfLikeKeys(t *testing.T) {
	const head = "Sheet,Row,Column,Distribution,Low,Likely,High\n"
	few := sampleTables(t)
	few["Machines"] = "Machine,Price [EUR],Economic life [yr],Equipment allocation\nM1,1,10,shared\nM1/b,2,10,shared\nM2,3,10,shared\n\"M3, " +
		"soft\",4,10,shared\n"
	many := csvCase{}
	for k, v := range few {
		many[k] = v
	}
	for i := range 20 {
		many["Machines"] += fmt.Sprintf("N%d,5,10,shared\n", i)
	}
	for name, of := range map[string]struct {
		of         csvCase
		rows, want string
	}{
		"a prefix":         {few, "*,base * 0.9,base * 1.1\nM1,0.5,2", "M1/b, M2, M3, soft: M1/b M2 M3, soft|M1: M1"},
		"the longer key":   {few, "*,base * 0.9,base * 1.1\nM1/b,0.5,2", "* except M1/b: M1 M2 M3, soft|M1/b: M1/b"},
		"a single one":     {few, "\"M1, M1/b\",base * 0.9,base * 1.1\nM1,0.5,2", "M1/b: M1/b|M1: M1"},
		"a comma":          {few, "*,base * 0.9,base * 1.1\n\"M3, soft\",0.5,2", "M1, M1/b, M2: M1 M1/b M2|M3, soft: M3, soft"},
		"more than listed": {many, "*,base * 0.9,base * 1.1\nM1,0.5,2", "* except M1: M1/b M2 M3, soft" + numbered(20) + "|M1: M1"},
	} {
		t.Run(name, func(t *testing.T) {
			of.of["Uncertainty"] = head
			for _, row := range strings.Split(of.rows, "\n") {
				cut := strings.LastIndex(row[:strings.LastIndex(row, ",")], ",")
				low, high, _ := strings.Cut(row[cut+1:], ",")
				of.of["Uncertainty"] += fmt.Sprintf("Machines,%s,Price,,%s,,%s\n", row[:cut], low, high)
			}
			m := New(of.of.read(t), sampleTables(t).model(t).library)
			list, ds := m.Uncertainty()
			var got []string
			for _, u := range list {
				f, d := m.findInput(u.Input)
				if d != nil {
					t.Fatal(d)
				}
				if f.input != u.Input {
					t.Errorf("%v is found as %v", u.Input, f.input)
				}
				got = append(got, u.Input.Row+": "+strings.Join(keysOf(f.records), " "))
			}
			if text := strings.Join(got, "|"); text != of.want || len(ds) > 0 {
				t.Errorf("%s %v\nwant %s", text, ds, of.want)
			}
		})
	}
}

func numbered(n int) string {
	text := ""
	for i := range n {
		text += fmt.Sprintf(" N%d", i)
	}
	return text
}

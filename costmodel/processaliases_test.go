package costmodel

import (
	"fmt"
	"strings"
	"testing"
)

// formerColumns has a row for each process that reads a column by a former name, and one of fine blanking and end forming, which have
// those names themselves.
func formerColumns(rows ...string) csvCase {
	return csvCase{"Case": "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n",
		"Plants": "Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,2\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n" +
			"Fuel gas price,EUR/kWh,0.05\n",
		"Materials":         "Material,Density [kg/m3],Base price [EUR/kg],Yield strength [MPa],Tensile strength [MPa]\nM,7850,0.9,240,400\n",
		"Parts":             "Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]\nP,sheet,M,1,500,100\n",
		"Bill of materials": "Parent,Child,Quantity\n",
		"Operations": "Part,Operation,Process,Machine,Set-up time [min],Batch size,Strokes per minute [1/min],Forming force [kN],Cut time [s]," +
			"Hemming speed [m/min],Hem length [mm],Pitch [mm],Cut length [mm],Press rate [1/min]\n" + strings.Join(rows, "\n") + "\n",
		"Machines":  "Machine,Price [EUR],Economic life [yr],Equipment allocation,Rated force [kN],Rated power [kW]\nM,100000,10,shared,1000,100\n",
		"Scenarios": "Sheet,Row,Column,A,B\n,,Product,P,P\n,,Annual volume [1/yr],1000,1000\nOperations,P/30,Strokes per minute,,10\n"}
}

// TestFormerColumns: columns of earlier workbooks give the inputs that took their place, each in the rows of its process; where
// another process has such a quantity as its own, that stays.
func TestFormerColumns(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	m := New(formerColumns("P,10,coil blanking,M,1,10,20,,,,,,,",
		"P,20,progressive die forming,M,1,10,30,,,,,50,400,", "P,30,tandem press forming,M,1,10,12,800,,,,,,",
		"P,40,roll forming,M,1,10,,,1.5,,,,,", "P,50,roller hemming,M,1,10,,,,12,600,,,", "P,60,fine blanking,M,1,10,25,,,,,,200,",
		"P,70,end forming,M,1,10,,90,,,,,,").read(t), lib)
	if len(m.Diagnostics) > 0 {
		t.Fatal(m.Diagnostics)
	}
	for i, want := range []map[string]float64{
		{"P/10 press_strokes": 20. / 60, "P/20 die_rate": 30. / 60, "P/30 press_rate": 12. / 60, "P/30 largest_force": 800e3, "P/40 cut_stop_time": 1.5,
			"P/50 roller_speed": 0.2, "P/60 strokes_per_minute": 25. / 60, "P/60 load_and_process_time": 2.4, "P/70 forming_force": 90e3},
		{"P/30 press_rate": 10. / 60}, // changed by the former name
	} {
		p, ds := m.Compile(m.Scenarios[i], CompileOptions{})
		if p == nil {
			t.Fatal(ds)
		}
		for _, e := range p.Detail(1000).Entries("operation") {
			for key, v := range want {
				row, quantity, _ := strings.Cut(key, " ")
				if row != e.Record().Key {
					continue
				}
				if got, ok := e.Value(quantity); !ok || fmt.Sprintf("%.6g", got) != fmt.Sprintf("%.6g", v) {
					t.Errorf("%s is %v (%v), wanted is %v", key, got, ok, v)
				}
				delete(want, key)
			}
		}
		for key := range want {
			t.Errorf("no row of %s", key)
		}
	}
}

// TestFormerColumnTwice: a row that gives an input by both its names is told so.
func TestFormerColumnTwice(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	m := New(formerColumns("P,30,tandem press forming,M,1,10,12,800,,,,,,11").read(t), lib)
	want := "Operations!G2: Strokes per minute is another name of Press rate for tandem and transfer press line"
	if said := fmt.Sprint(m.Diagnostics); !strings.Contains(said, want) {
		t.Error(said)
	}
}

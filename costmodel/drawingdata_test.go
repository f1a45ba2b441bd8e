package costmodel

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"piececost/templates"
)

// drawnCase has an operation of a process on a part: a blank from a sheet, or a length of tube, with what its drawing says in the columns
// drawn, and own cells of the operation.
func drawnCase(process, form, drawn, ownHead, own string) csvCase {
	head, cells, _ := strings.Cut(drawn, ";")
	if own == "" {
		ownHead = "Note"
	}
	return csvCase{"Case": "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n",
		"Plants":    "Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,2\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n",
		"Materials": "Material,Base price [EUR/kg]\nS355MC,0.9\n",
		"Parts":     fmt.Sprintf("Part,Form,Material,Gauge [mm],Blank length [mm],%s\nP,%s,S355MC,3,120,%s\n", head, form, cells),
		"Operations": fmt.Sprintf("Part,Operation,Process,Machine,Set-up time [min],Batch size,Load time [s],Cutting speed [m/min],"+
			"Flange height [mm],Pitch [mm],Seam length [mm],%s\nP,10,%s,M,1,100,8,10,20,130,,%s\n", ownHead, process, own),
		"Machines":  "Machine,Price [EUR],Economic life [yr],Equipment allocation,Rated force [kN],Rated power [kW]\nM,100000,10,shared,1000,100\n",
		"Scenarios": "Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],1000\n"}
}

// TestOperationsTakeDrawingData: what an operation's own cell leaves empty and the drawing of its part says is taken from there, the cell goes
// before, and what needs a thing that nobody stated says so, and takes no 0 for it.
func TestOperationsTakeDrawingData(t *testing.T) {
	lib, err := LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	const (
		sheet  = "Blank width [mm],Holes,Hole diameter [mm],Bends;80,4,9,2"
		solid  = "Blank width [mm],Holes,Bends;80,0,1"
		silent = "Blank width [mm];80"
		tube   = "Outer diameter [mm],Holes,Hole diameter [mm],Bends,Total bend angle,Centreline radius [mm];40,2,9,3,150,100"
	)
	holes := 4 * math.Pi * 9
	for _, c := range []struct {
		process, form, drawn, ownHead, own string
		quantity                           string
		want                               float64 // mm and 1
		lacks                              string  // instead
	}{
		{"press-brake bending", "sheet", sheet, "", "", "bends", 2, ""},
		{"press-brake bending", "sheet", sheet, "Bends", "3", "bends", 3, ""},
		{"press-brake bending", "sheet", silent, "", "", "bends", 0, "the sheet has no column Bends, which operations of press-brake bending need"},
		{"press-brake bending", "sheet", sheet, "", "", "longest_bend", 120, ""},
		{"press-brake bending", "sheet", sheet, "Longest bend [mm]", "70", "longest_bend", 70, ""},
		{"press-brake bending", "sheet", sheet, "", "", "die_opening", 24, ""},
		{"press brake", "sheet", solid, "", "", "bends", 1, ""},
		{"roll forming", "profile", sheet, "", "", "bends", 2, ""},
		{"tube bending", "tube", tube, "", "", "bends", 3, ""},
		{"tube bending", "tube", tube, "", "", "mean_bend_angle", 50, ""},
		{"tube bending", "tube", tube, "Bends", "2", "mean_bend_angle", 75, ""},
		{"tube bending", "tube", tube, "", "", "centreline_radius", 100, ""},
		{"tube bending", "tube", "Outer diameter [mm],Bends;40,3", "", "", "mean_bend_angle", 60, ""},
		{"tube bending", "tube", "Outer diameter [mm];40", "", "", "bends", 0, "the sheet has no column Bends"},
		{"drilling", "tube", tube, "", "", "holes", 2, ""},
		{"drilling", "tube", tube, "", "", "hole_depth", 3, ""},
		{"drilling", "sheet", sheet, "", "", "hole_diameter", 9, ""},
		{"drilling", "sheet", silent, "Hole diameter [mm]", "7", "holes", 1, ""},
		{"laser cutting", "sheet", sheet, "", "", "contour_length", 400 + holes, ""},
		{"laser cutting", "sheet", sheet, "", "", "pierces", 5, ""},
		{"laser cutting", "sheet", solid, "", "", "contour_length", 400, ""},
		{"laser cutting", "sheet", silent, "", "", "contour_length", 0, "the sheet has no column Holes, which parts of sheet need"},
		{"laser cutting", "sheet", silent, "Contour length [mm]", "450", "contour_length", 450, ""},
		{"laser cutting", "sheet", sheet, "", "", "pieces_per_sheet", 10, ""},
		{"laser cutting", "blank from sheet", sheet, "", "", "pieces_per_sheet", 391, ""}, // 23 x 17; turned 34 x 11
		{"laser trimming", "sheet", sheet, "", "", "cut_length", 400 + holes, ""},
		{"laser trimming", "sheet", sheet, "", "", "holes", 4, ""},
		{"shearing and punching", "sheet", sheet, "", "", "hits", 4, ""},
		{"shearing and punching", "sheet", sheet, "", "", "cut_length", math.Pi * 9, ""},
		{"shearing and punching", "sheet", sheet, "Hits", "2", "cut_length", 2 * math.Pi * 9, ""},
		{"shearing and punching", "sheet", solid, "", "", "hits", 1, ""},
		{"shearing and punching", "sheet", silent, "", "", "cut_length", 120, ""},
		{"shearing and punching", "sheet", sheet, "", "", "smallest_hole", 9, ""},
		{"coil blanking", "sheet", sheet, "", "", "cut_perimeter", 400 + holes, ""},
		{"coil blanking", "sheet", silent, "", "", "cut_perimeter", 400, ""},
		{"coil blanking", "sheet", "Blank width [mm],Outline [mm];80,377", "", "", "cut_perimeter", 377, ""},
		{"progressive die", "sheet", sheet, "", "", "cut_length", 400 + holes, ""},
		{"progressive die", "sheet", sheet, "Pieces across", "2", "cut_length", 800 + 2*holes, ""},
	} {
		tables := drawnCase(c.process, c.form, c.drawn, c.ownHead, c.own)
		m := New(tables.read(t), lib)
		p, ds := m.Compile(m.Scenarios[0], CompileOptions{})
		name := fmt.Sprintf("%s of a %s, %s, %s %s: %s", c.process, c.form, c.drawn, c.ownHead, c.own, c.quantity)
		if c.lacks != "" {
			if !ds.HasErrors() || !strings.Contains(fmt.Sprint(ds), c.lacks) {
				t.Errorf("%s: it says %v, want %q", name, ds, c.lacks)
			}
			continue
		}
		if p == nil {
			t.Errorf("%s: %v", name, ds)
			continue
		}
		e := p.Detail(1000).Entries("operation")[0]
		got, _, ok := e.In(c.quantity)
		if !ok || math.Abs(got-c.want) > 1e-9*c.want {
			t.Errorf("%s is %v (%v), want %v", name, got, ok, c.want)
		}
	}
}

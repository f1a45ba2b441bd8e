package scenarios

import (
	"path/filepath"
	"testing"
	"testing/fstest"
)

// formerColumns is a case whose input of three processes stands in one column by a former name, and of one of them in its own column as
// well, in another row.
var formerColumns = fstest.MapFS{
	"case.csv":   {Data: []byte("Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n")},
	"plants.csv": {Data: []byte("Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,2\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n")},
	"materials.csv": {Data: []byte("Material,Density [kg/m3],Base price [EUR/kg],Yield strength [MPa],Tensile strength [MPa]\n" +
		"M,7850,0.9,240,400\nN,2700,3,150,250\n")},
	"parts.csv":             {Data: []byte("Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]\nP,sheet,M,1,500,100\n")},
	"bill_of_materials.csv": {Data: []byte("Parent,Child,Quantity,Joined at operation\n")},
	"operations.csv": {Data: []byte("Part,Operation,Process,Machine,Set-up time [min],Batch size,Strokes per minute [1/min],Press strokes [1/min]," +
		"Forming force [kN],Cut length [mm]\n" +
		"P,10,coil blanking,M,1,10,20,,,\nP,20,coil blanking,M,1,10,,25,,\nP,30,tandem press forming,M,1,10,12,,800,\n" +
		"P,40,fine blanking,M,1,10,30,,,200\n")},
	"machines.csv": {Data: []byte("Machine,Price [EUR],Economic life [yr],Equipment allocation,Rated force [kN],Rated power [kW],Crew\n" +
		"M,100000,10,shared,1000,100,1\nN,50000,10,shared,500,50,1\n")},
	"scenarios.csv": {Data: []byte("Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],1000\n")},
}

// TestFormerColumnsRecomputed has an independent program compute the workbook: formulas lead to the column in which each row has its
// value.
func TestFormerColumnsRecomputed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "former.xlsx")
	saveTables(t, formerColumns, path)
	writeLive(t, path)
	if n := compareFormulas(t, path, recomputed(t, path)); n < 200 {
		t.Errorf("only %d formulas", n)
	}
}

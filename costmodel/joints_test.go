package costmodel

import (
	"fmt"
	"strings"
	"testing"
)

// TestNoJointsListed: a spot weld whose gauges stand nowhere asks for them; with rows of the sheet Joints it does not.
func TestNoJointsListed(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ joints, want string }{
		{"", "operation P/10 needs the gauges in the sheet Joints (Mean governing gauge) (scenario A); list its joints with their gauges there"},
		{"Part,Operation,Kind,Count,First gauge [mm],Second gauge [mm]\nP,10,spots,6,1,1.5\n", ""},
		{"Part,Operation,Kind,Count,First gauge [mm]\nP,10,spots,6,1\n", "Second gauge"},
	} {
		tables := csvCase{"Case": "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,1\nInterest rate,%/yr,0\n",
			"Plants":     "Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,36\n",
			"Parts":      "Part,Form\nP,assembly\n",
			"Machines":   "Machine,Price [EUR],Economic life [yr],Equipment allocation,Crew\nM,0,10,shared,1\n",
			"Scenarios":  "Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],1000\n",
			"Operations": "Part,Operation,Process,Machine,Set-up time [min],Batch size\nP,10,resistance spot welding,M,0,100\n"}
		if c.joints != "" {
			tables["Joints"] = c.joints
		}
		m := New(tables.read(t), lib)
		_, ds := m.Compile(m.Scenarios[0], CompileOptions{})
		said := fmt.Sprint(append(m.Diagnostics, ds...).Of("error"))
		if !strings.Contains(said, c.want) || c.want == "" && said != "" {
			t.Errorf("%q: it says %s, want %q", c.joints, said, c.want)
		}
	}
}

package scenarios

import (
	"bytes"
	"fmt"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// manyOpen is a case of so many parts of one open operation each, and so many machines that can do it.
func manyOpen(t testing.TB, parts, machines int) *table.Case {
	t.Helper()
	s := openCase(t)
	var p, o, b, m bytes.Buffer
	p.WriteString("Part,Form,Gross mass [kg],Net mass of this level [kg],Material\nASM,assembly,,,\n")
	o.WriteString("Part,Operation,Process,Machine,Load and process time [s],Reject rate [%],Set-up time [min],Batch size,Power [kW]\n" +
		"ASM,10,timed operation,MANUAL,60,0,0,1000,1\n")
	b.WriteString("Parent,Child,Quantity,Joined at operation\n")
	m.WriteString("Machine,Process class,Price [EUR],Installation share [%],Economic life [yr],Footprint [m2],Rated power [kW],Power load factor [%],Crew," +
		"Maintenance share [%/yr],Unplanned downtime share [%],Equipment allocation,Labour allocation,Rated force [kN]\n" +
		"MANUAL,,1000,0,10,10,1,50,1,1,1,shared,hours,\n")
	for i := range machines {
		fmt.Fprintf(&m, "M%d,transfer press forming,%d,10,12,%d,%d,50,1,4,%d,shared,hours,%d\n", i, 300000+20000*i, 20+i, 50+5*i, 5+i%7, 1000+400*i)
	}
	for i := range parts {
		fmt.Fprintf(&p, "P%d,given masses,%d,%d,M07\n", i, 2+i%5, 1+i%5)
		fmt.Fprintf(&o, "P%d,10,transfer press forming,,%d,1,20,2000,40\n", i, 5+i%13)
		fmt.Fprintf(&b, "ASM,P%d,1,10\n", i)
	}
	out := fstest.MapFS{}
	for name, file := range s.files(t) {
		out[name] = file
	}
	for name, text := range map[string]*bytes.Buffer{"parts.csv": &p, "operations.csv": &o, "bill_of_materials.csv": &b, "machines.csv": &m} {
		out[name] = &fstest.MapFile{Data: text.Bytes()}
	}
	delete(out, "joints.csv")
	out["scenarios.csv"] = &fstest.MapFile{Data: []byte("Sheet,Row,Column,All\n,,Annual volume [1/yr],60000\n,,Product,ASM\n,,Plant,Van plant\n")}
	c, err := ReadTables(out, "choice")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// BenchmarkChoice chooses among 40 machines for 3,000 operations; beside it the reading and compiling of the same case.
func BenchmarkChoice(b *testing.B) {
	c := manyOpen(b, 3000, 40)
	m := costmodel.New(c, testLibrary(b))
	for _, d := range m.Diagnostics {
		if d.Severity == table.Error {
			b.Fatal(d)
		}
	}
	s := m.Scenarios[0]
	if n := len(s.Choices(m)); n != 3000 {
		b.Fatalf("%d choices", n)
	}
	b.Run("choose", func(b *testing.B) {
		for b.Loop() {
			if chosen, ds := m.Choose(s, 60000); len(chosen) != 3000 || ds.HasErrors() {
				b.Fatal(len(chosen), ds)
			}
		}
	})
	b.Run("compile", func(b *testing.B) {
		for b.Loop() {
			if p, ds := m.Compile(s, costmodel.CompileOptions{}); p == nil {
				b.Fatal(ds)
			}
		}
	})
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			costmodel.New(c, testLibrary(b))
		}
	})
}

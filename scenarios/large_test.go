package scenarios

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/templates"
)

// large is the number of parts of TestLarge; each has three steps.
var large = flag.Int("large", 700, "parts of the large case, 3000 in make check; a tenth of it is costed too, to compare")

// largeTables are the tables of an invented product with a number of parts, three steps each, in assemblies of twenty;
// plant, machines and materials are the sample's.
func largeTables(t testing.TB, parts int) fs.FS {
	t.Helper()
	sample, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for _, name := range []string{"case.csv", "plants.csv", "materials.csv", "machines.csv"} {
		data, err := fs.ReadFile(sample, name)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = &fstest.MapFile{Data: data}
	}
	var list, bill, steps bytes.Buffer
	list.WriteString("Part,Name,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm],Nesting utilisation [%],Trim loss share [%],Source\n")
	bill.WriteString("Parent,Child,Quantity,Joined at operation\n")
	steps.WriteString("Part,Operation,Process,Machine,Load and process time [s],Reject rate [%],Set-up time [min],Batch size,Tool price " +
		"[EUR],Tool life [cycles]\n")
	const fan = 20
	for i := range parts {
		key := fmt.Sprintf("N%05d", i)
		assembly := i*fan+1 < parts
		if assembly {
			fmt.Fprintf(&list, "%s,assembly %d,assembly,,,,,,,invented\n", key, i)
		} else {
			fmt.Fprintf(&list, "%s,panel %d,sheet,M%02d,%.2f,%d,%d,95,%d,invented\n", key, i, 1+i%6, 0.6+float64(i%10)/10, 200+i%900, 150+i%700, 5+i%30)
		}
		for s := 1; s <= 3; s++ {
			process, machine := "timed operation", fmt.Sprintf("E%02d", 11+(i+s)%4)
			if !assembly && s == 1 {
				process, machine = "progressive die forming", fmt.Sprintf("E%02d", 2+i%4)
			}
			fmt.Fprintf(&steps, "%s,%d,%s,%s,%.2f,%.1f,%d,%d,%d,%d\n", key, 10*s, process, machine, 2+float64((i+s)%40)/2, float64(i%5)/2, 10+i%30,
				500+100*(i%40), 20000+1000*(i%300), 400000+10000*(i%100))
		}
		if i > 0 {
			fmt.Fprintf(&bill, "N%05d,%s,%d,10\n", (i-1)/fan, key, 1+i%2)
		}
	}
	out["parts.csv"], out["bill_of_materials.csv"], out["operations.csv"] = &fstest.MapFile{Data: list.Bytes()}, &fstest.MapFile{Data: bill.Bytes()},
		&fstest.MapFile{Data: steps.Bytes()}
	out["scenarios.csv"] = &fstest.MapFile{Data: []byte("Sheet,Row,Column,Large\n,,Annual volume [1/yr],20000\n,,Product,N00000\n,,Plant,Van plant\n")}
	out["volumes.csv"] = &fstest.MapFile{Data: []byte("Annual volume [1/yr]\n5000\n20000\n80000\n")}
	return out
}

// A stage is a part of a run with its time, the bytes it allocated, and the most that was in use meanwhile.
type stage struct {
	name      string
	took      time.Duration
	allocated uint64
	peak      uint64
}

// measure runs a stage.
func measure(name string, do func()) stage {
	runtime.GC()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	stop, peak := make(chan bool), make(chan uint64)
	go func() {
		most := uint64(0)
		for {
			s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
			metrics.Read(s)
			most = max(most, s[0].Value.Uint64())
			select {
			case <-stop:
				peak <- most
				return
			case <-time.After(2 * time.Millisecond):
			}
		}
	}()
	start := time.Now()
	do()
	took := time.Since(start)
	close(stop)
	most := <-peak
	runtime.ReadMemStats(&after)
	return stage{name, took, after.TotalAlloc - before.TotalAlloc, most}
}

// runLarge makes, reads, costs and writes a large case.
func runLarge(t testing.TB, parts int) []stage {
	t.Helper()
	path := filepath.Join(t.TempDir(), "large.xlsx")
	var out []stage
	var err error
	step := func(name string, do func()) {
		out = append(out, measure(name, do))
		if err != nil {
			t.Fatal(err)
		}
	}
	step("make the workbook", func() { saveTables(t, largeTables(t, parts), path) })
	var w *Workbook
	var c *table.Case
	step("read", func() {
		if w, err = Open(path); err == nil {
			c, err = w.Case()
		}
	})
	var m *costmodel.Model
	lib := testLibrary(t)
	step("check", func() { m = costmodel.New(c, lib) })
	var p *costmodel.Plan
	step("compile", func() {
		var ds table.Diagnostics
		if p, ds = m.Compile(m.Scenarios[0], costmodel.CompileOptions{}); p == nil {
			err = ds[0]
		}
	})
	r := &Result{}
	step("cost three volumes", func() {
		r.Details = []*costmodel.Detail{p.Detail(p.Scenario.Volume)}
		var s *costmodel.Sweep
		s, err = p.Sweep(m.Volumes)
		r.Sweeps = []*costmodel.Sweep{s}
	})
	step("write live", func() { err = w.Write(t.Context(), r) })
	step("save", func() { err = w.Save(t.Context(), path, SaveOptions{Replace: true}) })
	info, e := os.Stat(path)
	if e != nil {
		t.Fatal(e)
	}
	step("read again with results", func() {
		if w, err = Open(path); err == nil {
			c, err = w.Case()
		}
	})
	step("find hand edits", func() {
		var edits []Edit
		if edits, err = w.hand.Find(m); len(edits) > 0 {
			err = fmt.Errorf("%d false edits, the first %v, the last %v", len(edits), edits[0], edits[len(edits)-1])
		}
	})
	t.Logf("%d parts, %d operations, workbook of %d MB with results", parts, 3*parts, info.Size()>>20)
	return out
}

// TestLarge costs a large case and one of a tenth of its size: time and memory of each stage, and that the work grows at
// most in proportion, by the bytes allocated. `go test ./scenarios -run TestLarge -large 10000 -v` is the full size.
func TestLarge(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	small, big := runLarge(t, *large/10), runLarge(t, *large)
	var table strings.Builder
	fmt.Fprintf(&table, "\n%-26s %12s %12s %12s %12s\n", "stage", "time", "peak MB", "alloc. MB", "against 1/10")
	for i, s := range big {
		ratio := float64(s.allocated) / float64(max(1, small[i].allocated))
		fmt.Fprintf(&table, "%-26s %12v %12d %12d %12.1f\n", s.name, s.took.Round(time.Millisecond), s.peak>>20, s.allocated>>20, ratio)
		if ratio > 10.5 && s.allocated > 8<<20 {
			t.Errorf("%s: ten times the parts take %.1f times the memory traffic", s.name, ratio)
		}
	}
	t.Log(table.String())
}

package costmodel

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel/table"
	"piececost/templates"
)

// gradeCase is a clip that is blanked and bent, with the checks of both presses.
func gradeCase(materials string) csvCase {
	return csvCase{"Case": "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n",
		"Plants":    "Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,2\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n",
		"Materials": materials,
		"Parts":     "Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]\nCLIP,sheet,M,1.5,260,60\n",
		"Operations": "Part,Operation,Process,Machine,Set-up time [min],Batch size,Cut length [mm],Bends,Longest bend [mm]," +
			"Section width [mm],Sheet length [mm]\n" +
			"CLIP,10,shearing and punching,P,10,500,260,,,,\nCLIP,20,press brake bending,P,10,500,,2,40,,\n" +
			"CLIP,30,stretch forming over a form block,P,10,500,,,,60,220\n",
		"Machines":          "Machine,Price [EUR],Economic life [yr],Equipment allocation,Rated force [kN]\nP,100000,10,shared,400\n",
		"Bill of materials": "Parent,Child,Quantity,Joined at operation\n",
		"Scenarios":         "Sheet,Row,Column,A,B\n,,Product,CLIP,CLIP\n,,Annual volume [1/yr],1000,1000\n"}
}

// everyValue lists every quantity of every row that was reckoned, but those of the materials and of the scenario, whose name is another.
func everyValue(t *testing.T, c csvCase, scenario int) map[string]float64 {
	t.Helper()
	p := compiledCase(t, c, scenario)
	d := p.Detail(1000)
	out := map[string]float64{}
	for e := range p.graph.rows {
		r := &p.graph.rows[e]
		for n, q := range r.scope.Quantities {
			if r.scope.Name != "material" && r.scope.Name != "scenario" && p.plan.Has(r.first+int32(n)) {
				out[fmt.Sprint(p.graph.label(int32(e)), " ", q.Name)] = d.values[r.first+int32(n)]
			}
		}
	}
	return out
}

func compiledCase(t *testing.T, c csvCase, scenario int) *Plan {
	t.Helper()
	m := New(c.read(t), gradeLibrary(t))
	p, ds := m.Compile(m.Scenarios[scenario], CompileOptions{})
	if p == nil {
		t.Fatal(m.Diagnostics, ds)
	}
	return p
}

const typedDC04 = "Material,Density [kg/m3],Base price [EUR/kg],Yield strength [MPa],Tensile strength [MPa],Shear factor,Hardening exponent\n" +
	"M,7850,0.9,175,310,0.75,0.18\n"

// TestDesignationAlone: a case with a designation and a price is reckoned as one with the values typed, in the column Grade, as the key, or by a
// scenario's change; what a cell gives wins.
func TestDesignationAlone(t *testing.T) {
	want := everyValue(t, gradeCase(typedDC04), 0)
	if v := want["operation CLIP/10 cutting_force"]; math.Abs(v-0.26*0.0015*0.75*310e6) > 1e-6 { // cut length x gauge x shear strength
		t.Errorf("the cut takes %v N", v)
	}
	same := func(what string, c csvCase, scenario int, want map[string]float64) {
		t.Helper()
		got := everyValue(t, c, scenario)
		if len(got) != len(want) {
			t.Errorf("%s: %d quantities, want %d", what, len(got), len(want))
		}
		for name, v := range want {
			if g, ok := got[name]; !ok || math.Abs(g-v) > 1e-12*math.Abs(v) {
				t.Errorf("%s: %s is %v, want %v", what, name, g, v)
			}
		}
	}
	graded := gradeCase("Material,Grade,Base price [EUR/kg]\nM,EN 10130 DC04+ZE25/25,0.9\n")
	same("Grade", graded, 0, want)
	keyed := gradeCase("Material,Base price [EUR/kg]\n1.0338,0.9\n")
	keyed["Parts"] = strings.Replace(keyed["Parts"], ",M,", ",1.0338,", 1)
	same("key", keyed, 0, want)
	changed := gradeCase("Material,Grade,Base price [EUR/kg]\nM,DC01,0.9\n")
	changed["Scenarios"] += "Materials,M,Grade,,DC04\n"
	same("change", changed, 1, want)
	if got := everyValue(t, changed, 0)["operation CLIP/10 cutting_force"]; math.Abs(got-0.26*0.0015*0.75*340e6) > 1e-6 {
		t.Errorf("without the change the cut takes %v N", got)
	}
	strong := everyValue(t, gradeCase(strings.Replace(typedDC04, ",310,", ",400,", 1)), 0)
	same("a cell", gradeCase("Material,Grade,Base price [EUR/kg],Tensile strength [MPa]\nM,DC04,0.9,400\n"), 0, strong)
	key := everyValue(t, gradeCase("Material,Grade,Base price [EUR/kg]\nM,DC06,0.9\n"), 0)
	if key["operation CLIP/30 hardening_exponent"] != 0.22 || key["operation CLIP/30 hardening_exponent"] == want["operation CLIP/30 hardening_exponent"] {
		t.Errorf("the exponent of DC06 in stretching is %v", key["operation CLIP/30 hardening_exponent"])
	}
}

// TestGradeIsExplained: a value that a grade brings says its file, its standard, what of it and how sure it is.
func TestGradeIsExplained(t *testing.T) {
	p := compiledCase(t, gradeCase("Material,Grade,Base price [EUR/kg],Density [kg/m3]\nM,DC04,0.9,7800\n"), 0)
	e, err := p.FindRow("material", "M")
	if err != nil {
		t.Fatal(err)
	}
	const of = "templates/grades/steel-sheet-soft.yaml, DC04: EN 10130, table of mechanical properties, "
	for name, want := range map[string][2]string{
		"tensile_strength":       {"default", of + "middle of 270 to 350 MPa; from memory, within about 8 %"},
		"minimum_yield_strength": {"default", of + "lower end of 140 to 210 MPa; from memory, within about 3 %"},
		"density":                {"input", ""},
	} {
		n, err := p.QuantityNamed(e, name)
		if err != nil {
			t.Fatal(err)
		}
		if x := p.Detail(1000).Explain(e, n); x.From != want[0] || x.Source != want[1] {
			t.Errorf("%s: %s, %s", name, x.From, x.Source)
		}
	}
	if g := p.GradeOf(p.RowRecord(e)); g.nameOr("") != "DC04" {
		t.Errorf("the grade of M is %s", g.nameOr("none"))
	}
}

// TestGradeFindings: a designation in the column Grade that is not known is an error at its cell that names the nearest, a warning where the row has its
// density; a key may be anything;
// prices are never brought; what a grade would bring is said where it is missing.
func TestGradeFindings(t *testing.T) {
	for _, c := range []struct{ materials, scenarios, summary, help, cell string }{
		{"Material,Grade,Base price [EUR/kg]\nM,DC40,0.9\n", "", `unknown grade "DC40"`, "did you mean DC04?", "B2"},
		{"Material,Grade,Base price [EUR/kg]\nM,EN AW-5754,0.9\n", "", `unknown grade "EN AW-5754"`, "did you mean EN AW-5754-H111, EN AW-5754-H22?", "B2"},
		{"Material,Grade,Base price [EUR/kg]\nM,DC04 (1.0347),0.9\n", "", `unknown grade "DC04 (1.0347)"`, "", "B2"},
		{"Material,Grade,Base price [EUR/kg],Density [kg/m3]\nM,tantalum,0.9,16600\n", "", `unknown grade "tantalum"`,
			"leave the cell empty and type its values", "B2"},
		{typedDC04, "Materials,M,Grade,,DC4\n", `unknown grade "DC4"`, "did you mean DC04?", "E4"},
		{"Material,Grade\nM,DC04\n", "", "the sheet has no column Base price", "", table.Place{}.Cell()},
		{"Material,Base price [EUR/kg],Density [kg/m3]\nM,0.9,\n", "", "Density of material M is missing",
			"or write under Grade one that `piececost grades` lists", "C2"},
		{"Material,Density [kg/m3],Base price [EUR/kg]\nM,7850,\n", "", "Base price of material M is missing", "fill its cell under Base price [EUR/kg]", "C2"},
	} {
		given := gradeCase(c.materials)
		given["Scenarios"] += c.scenarios
		m := New(given.read(t), gradeLibrary(t))
		_, ds := m.Compile(m.Scenarios[len(m.Scenarios)-1], CompileOptions{})
		all := append(slices.Clone(m.Diagnostics), ds...)
		i := slices.IndexFunc(all, func(d table.Diagnostic) bool { return strings.Contains(d.Summary, c.summary) })
		switch {
		case i < 0:
			t.Errorf("%q: nothing says %q: %v", c.materials, c.summary, all)
		case !strings.Contains(all[i].Help, c.help) || all[i].Place.Cell() != c.cell ||
			all[i].Severity != map[bool]table.Severity{true: table.Warning, false: table.Error}[strings.Contains(c.materials, "tantalum")]:
			t.Errorf("%q: %v at %s: %s", c.materials, all[i].Severity, all[i].Place.Cell(), all[i].Help)
		case strings.Contains(c.summary, "unknown") && len(all) > 1:
			t.Errorf("%q: said besides: %+v", c.materials, all)
		case strings.Contains(c.summary, "Base price of") && all[i].Help != c.help:
			t.Errorf("a price: %s", all[i].Help)
		}
	}
	named := gradeCase("Material,Density [kg/m3],Base price [EUR/kg]\nM,7850,0.9\nDC40,7850,0.9\n")
	if m := New(named.read(t), gradeLibrary(t)); len(m.Diagnostics) > 0 {
		t.Errorf("a key that is nearly a designation: %s", m.Diagnostics[0].Summary)
	}
}

// TestGradeFiles: a file of grades that is not whole is an error at start that names file, line and what is wrong.
func TestGradeFiles(t *testing.T) {
	const head = "family: f\nform: sheet\nstandard: EN 1\nverify: v\ntypical: {kind: common practice, within: 15}\nvalues:\n"
	const values = "  density: {is: 7850, kind: from memory, within: 1, source: s}\n  yield_strength: {kind: from memory, within: 5, source: s}\n"
	for _, c := range [][2]string{
		{head + values + "grades:\n  X1: {yield_strength: [100, 200]}\n",
			""},
		{head + values + "grades:\n  X1: {tensile_strength: 300}\n",
			"10: tensile_strength does not stand in the list"},
		{head + values + "grades:\n  X1: {typical: {tensile_strength: 300}}\n",
			"10: tensile_strength does not stand in the list"},
		{head + values + "grades:\n  X1: {yield_strength: [200, 100]}\n",
			"10: yield_strength: a value is a number or a rising pair"},
		{head + values + "grades:\n  X1: {yield_strength: hard}\n",
			`10: yield_strength: "hard" is no number`},
		{head + values + "grades:\n  X1: {yield_strength: {is: 100, kind: heard}}\n",
			"10: yield_strength: kind is one of"},
		{head + values + "grades:\n  X1: {also: [DC04]}\n",
			`"DC04" is X1 and DC04`},
		{head + "  density: {is: 7850, kind: from memory, within: 1}\ngrades:\n  X1: {}\n",
			"7: density is from memory and names no source"},
		{head + "  density: {is: 7850, kind: common practice}\ngrades:\n  X1: {}\n",
			"7: density does not say within how many percent"},
		{head + "  base_price: {is: 1, kind: common practice, within: 9}\ngrades:\n  X1: {}\n",
			"7: base_price is a price, which no grade brings"},
		{head + "  hardness: {is: 1, kind: common practice, within: 9}\ngrades:\n  X1: {}\n",
			"7: hardness is no input of a material"},
		{head + "  price: {is: 1, kind: common practice, within: 9}\ngrades:\n  X1: {}\n",
			"7: price is no input of a material"},
		{strings.Replace(head, "form:", "shape:", 1) + values + "grades:\n  X1: {yield_strength: [100, 200]}\n",
			"field shape not found"},
	} {
		text, want := c[0], c[1]
		files := fstest.MapFS{"grades/x.yaml": {Data: []byte(text)}}
		err := fs.WalkDir(templates.Files, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || strings.HasPrefix(name, "samples/") {
				return err
			}
			raw, err := fs.ReadFile(templates.Files, name)
			files[name] = &fstest.MapFile{Data: raw}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		switch _, err := LoadLibrary(files); {
		case want == "" && err != nil:
			t.Error(err)
		case want != "" && (err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "grades/")):
			t.Errorf("%s\n: %v, want %s", text, err, want)
		}
	}
}

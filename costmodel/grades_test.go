package costmodel

import (
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

func gradeLibrary(t testing.TB) *Library {
	t.Helper()
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

func gradeNumberOf(t testing.TB, g *Grade, name string) float64 {
	t.Helper()
	v, ok := g.Number(name)
	if !ok {
		t.Errorf("%s has no %s", g.Name, name)
	}
	return v
}

// TestGradesAgainstPublished holds the values against figures that others stated: proof strength and tensile strength as ranges, elongation
// A80, and where they are known n and r. Of steel makers' data pages (read by another): DC06, DX58, CR BH260, CR HSLA300; the others are those
// of the named standard from memory, written down by another person than the files.
func TestGradesAgainstPublished(t *testing.T) {
	lib := gradeLibrary(t)
	for _, c := range []struct {
		name, source         string
		yield, tensile       [2]float64
		elongation           float64
		exponent, anisotropy float64 // 0 where they are not stated
	}{
		{"DC06", "data page, Tata Steel", [2]float64{120, 170}, [2]float64{270, 330}, 41, 0.220, 2.1},
		{"CR BH260", "data page, Tata Steel", [2]float64{260, 320}, [2]float64{360, 440}, 28, 0, 0},
		{"CR HSLA300", "data page, Tata Steel", [2]float64{300, 380}, [2]float64{380, 480}, 23, 0, 0},
		{"DX58", "data page, Tata Steel", [2]float64{120, 155}, [2]float64{260, 310}, 43, 0.225, 2.30},
		{"DP800", "data page, Tata Steel; its elongation is that of another variant", [2]float64{440, 550}, [2]float64{780, 900}, 0, 0, 0},
		{"DC04", "EN 10130:2006", [2]float64{140, 210}, [2]float64{270, 350}, 38, 0, 0},
		{"CR4", "VDA 239-100:2016", [2]float64{140, 180}, [2]float64{270, 330}, 39, 0, 0},
		{"CR180BH", "VDA 239-100", [2]float64{180, 240}, [2]float64{290, 360}, 34, 0, 0},
		{"CR210BH", "VDA 239-100", [2]float64{210, 270}, [2]float64{320, 400}, 32, 0, 0},
		{"CR210IF", "VDA 239-100", [2]float64{210, 270}, [2]float64{340, 420}, 33, 0, 0},
		{"HC300LA", "EN 10268:2006+A1:2013", [2]float64{300, 380}, [2]float64{380, 480}, 23, 0, 0},
		{"HCT490X", "EN 10338", [2]float64{290, 380}, [2]float64{490, 600}, 24, 0, 0},
		{"CR330Y590T-DP", "EN 10338", [2]float64{330, 430}, [2]float64{590, 700}, 20, 0, 0},
		{"EN AW-5754 O/H111", "EN 485-2", [2]float64{80, 140}, [2]float64{190, 240}, 18, 0, 0},
		{"EN AW-6016 T4", "EN 485-2", [2]float64{80, 140}, [2]float64{170, 250}, 24, 0, 0},
	} {
		g := lib.Grade(c.name)
		if g == nil {
			t.Errorf("%s is not known", c.name)
			continue
		}
		for name, want := range map[string]float64{"minimum_yield_strength": c.yield[0], "yield_strength": (c.yield[0] + c.yield[1]) / 2,
			"minimum_tensile_strength": c.tensile[0], "tensile_strength": (c.tensile[0] + c.tensile[1]) / 2, "elongation": c.elongation,
			"hardening_exponent": c.exponent, "anisotropy": c.anisotropy} {
			if got := gradeNumberOf(t, g, name); want > 0 && math.Abs(got-want) > 1e-9*want {
				t.Errorf("%s: %s is %v, %s has %v", g.Name, name, got, c.source, want)
			}
		}
	}
	// densities and moduli: EN 10020 family and EN 1999-1-1, from memory
	for name, want := range map[string][2]float64{"DC01": {7850, 210}, "S355J2": {7850, 210}, "EN AW-5754-H111": {2670, 70}, "EN AW-6016-T4": {2700, 70}} {
		g := lib.Grade(name)
		if got := [2]float64{gradeNumberOf(t, g, "density"), gradeNumberOf(t, g, "elastic_modulus")}; got != want {
			t.Errorf("%s: density and modulus are %v, want %v", name, got, want)
		}
	}
}

// TestGradesInOrder: what the trade orders by strength rises or falls from grade to grade, and no minimum is above the typical value.
func TestGradesInOrder(t *testing.T) {
	lib := gradeLibrary(t)
	for _, c := range []struct {
		quantity string
		falls    bool
		names    string
	}{
		{"yield_strength", true, "DC01 DC03 DC04 DC05 DC06 DC07"}, {"elongation", false, "DC01 DC03 DC04 DC05 DC06 DC07"},
		{"anisotropy", false, "DC01 DC03 DC04 DC05 DC06 DC07"}, {"hardening_exponent", false, "DC01 DC03 DC05 DC06 DC07"},
		{"yield_strength", true, "DX52D DX53D DX54D DX56D DX57D DX58D"}, {"elongation", false, "DX51D DX52D DX53D DX54D DX56D DX57D DX58D"},
		{"minimum_yield_strength", false, "S220GD S250GD S280GD S320GD S350GD"}, {"elongation", true, "S220GD S250GD S280GD S320GD S350GD"},
		{"yield_strength", false, "HC260LA HC300LA HC340LA HC380LA HC420LA HC460LA"}, {"elongation", true, "HC260LA HC300LA HC340LA HC380LA HC420LA HC460LA"},
		{"tensile_strength", false, "HCT450X HCT490X HCT590X HCT780X HCT980X"}, {"hardening_exponent", true, "HCT450X HCT490X HCT590X HCT780X HCT980X"},
		{"tensile_strength", false, "S235JR S275JR S355J2"}, {"yield_strength", false, "S315MC S355MC S420MC S460MC S500MC S700MC"},
		{"tensile_strength", false, "E235+A E235+N E235+SR E235+C"},
		{"minimum_tensile_strength", false, "E190+CR2 E220+CR2 E260+CR2 E320+CR2 E370+CR2 E420+CR2"},
		{"yield_strength", false, "6060-T4 6060-T5 6060-T6 6060-T66"}, {"yield_strength", false, "6082-T4 6082-T5 6082-T6"},
		{"tensile_strength", false, "C35+N C45+N C60+N"}, {"tensile_strength", false, "GJS-400-15 GJS-500-7 GJS-600-3 GJS-700-2"},
		{"elastic_modulus", false, "PP PA6 PA6-GF30"},
	} {
		names := strings.Fields(c.names)
		for i := 1; i < len(names); i++ {
			a, b := lib.Grade(names[i-1]), lib.Grade(names[i])
			if a == nil || b == nil {
				t.Fatalf("%s or %s is not known", names[i-1], names[i])
			}
			was, is := gradeNumberOf(t, a, c.quantity), gradeNumberOf(t, b, c.quantity)
			if c.falls != (is < was) || is == was {
				t.Errorf("%s goes from %v of %s to %v of %s", c.quantity, was, a.Name, is, b.Name)
			}
		}
	}
	for _, g := range lib.Grades {
		at := func(name string) float64 { v, _ := g.Number(name); return v }
		yield, tensile := gradeNumberOf(t, g, "yield_strength"), gradeNumberOf(t, g, "tensile_strength")
		if yield > tensile || at("minimum_yield_strength") > yield || at("minimum_tensile_strength") > tensile ||
			at("minimum_yield_strength") > 0.999*tensile {
			t.Errorf("%s: yield %v of at least %v, tensile %v of at least %v", g.Name, yield, at("minimum_yield_strength"), tensile,
				at("minimum_tensile_strength"))
		}
	}
}

// TestGradesAreWhole: each value is plausible and says where it comes from and how sure it is, those of a family are alike in density, and a
// grade has all that forms and processes ask of a material that can be what it is.
func TestGradesAreWhole(t *testing.T) {
	lib := gradeLibrary(t)
	inputs := map[string]Item{}
	for _, tpl := range lib.Scopes {
		for _, it := range tpl.Items {
			if tpl.Scope == "material" && it.Input {
				inputs[it.Name] = it
			}
		}
	}
	asked := askedOfMaterials(t, lib)
	if len(asked) < 4 {
		t.Fatalf("processes ask only for %v", asked)
	}
	families := map[string][2]float64{}
	values := 0
	for _, g := range lib.Grades {
		for _, text := range []string{g.Family, g.Standard, g.Form, g.Verify} {
			if text == "" {
				t.Errorf("%s has no family, standard, form or word of what to look up", g.Name)
			}
		}
		for i := range g.Items {
			it := &g.Items[i]
			values++
			of := inputs[it.Name]
			if v := gradeNumberOf(t, g, it.Name); !IsPlausible(v, of.Plausible[0], of.Plausible[1]) {
				t.Errorf("%s: %s %v is outside of %v", g.Name, it.Name, v, of.Plausible)
			}
			if it.Unit != of.Unit || it.Within <= 0 || it.Within > 40 ||
				!strings.Contains(it.Source, "templates/grades/") || !strings.Contains(it.Source, string(it.Kind)) {
				t.Errorf("%s: %s in %s, %s, within %v %%: %s", g.Name, it.Name, it.Unit, it.Kind, it.Within, it.Source)
			}
		}
		for name := range asked {
			if _, ok := g.Number(name); !ok && (inputs[name].Is == "" && slices.Contains([]string{"sheet", "tube", "profile"}, g.Form) || name == "density") {
				t.Errorf("%s, a %s, has no %s, which %s asks for", g.Name, g.Form, name, asked[name])
			}
		}
		rho := gradeNumberOf(t, g, "density")
		lo, hi := rho, rho
		if f, ok := families[g.Family]; ok {
			lo, hi = min(lo, f[0]), max(hi, f[1])
		}
		families[g.Family] = [2]float64{lo, hi}
	}
	for family, f := range families { // polymers with fillers, magnesium beside zinc, cast steel beside iron apart
		if f[1] > 1.1*f[0] && !strings.Contains(family, "thermoplastics") && !strings.Contains(family, "zinc") && !strings.Contains(family, "cast steel") {
			t.Errorf("%s: densities from %v to %v", family, f[0], f[1])
		}
	}
	if len(lib.Grades) < 120 || values < 1200 {
		t.Errorf("only %d grades with %d values", len(lib.Grades), values)
	}
}

// askedOfMaterials finds the inputs of a material that forms and processes read, none of them a price, with one that does.
func askedOfMaterials(t *testing.T, lib *Library) map[string]string {
	t.Helper()
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		t.Fatal(err)
	}
	var ds table.Diagnostics
	s := newSchema(lib, sys, nil, nil, &ds)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	out := map[string]string{}
	s.eachReference(func(*Scope, *Variant) bool { return true }, func(from *Scope, defined int32, to *Scope, n int32) {
		q := to.Quantities[n]
		d := to.Variants[0].defined(n)
		if to.Name == "material" && from != to && d != nil && d.Item.Input && !strings.Contains(q.Unit.Text, "currency") {
			out[q.Name] = from.Quantities[defined].Name
		}
	})
	return out
}

// TestGradeSpelling: how a designation is written makes no difference, what it says does.
func TestGradeSpelling(t *testing.T) {
	lib := gradeLibrary(t)
	for text, want := range map[string]string{
		"DC04": "DC04", " dc 04 ": "DC04", "1.0338": "DC04", "EN 10130 DC04": "DC04", "DIN EN 10130:2006 - DC04": "DC04", "DC04 (EN 10130)": "DC04",
		"DC04 (1.0338)": "DC04", "1.0338 / DC04": "DC04", "DC04+ZE25/25-A-P-O": "DC04", "DC04 + ZE 50/50 BP": "DC04",
		"1.033": "DC01", "1.44": "", "1.4": "", // a number whose last nought the cell lost
		"DX54D+Z100": "DX54D", "DX54D+Z100-M-A-C": "DX54D", "DX54D + ZM120 MB-O": "DX54D", "HX340LAD+AS120": "HX340LAD", "hct780x+z100 mb": "HCT780X",
		"EN 10346 HX340LAD+Z100": "HX340LAD", "EN 10025-2 S355J2+N": "S355J2", "S355J2+AR": "S355J2", "S355J2+C": "",
		"EN AW-5754 O/H111": "EN AW-5754-H111", "AW 5754 H111": "EN AW-5754-H111", "5754-O": "EN AW-5754-H111", "EN AW 6082 T6": "EN AW-6082-T6",
		"EN AW-5754": "", "6082": "", "6082 T651": "", "EN AC-46000": "EN AC-46000", "AlSi9Cu3(Fe)": "EN AC-46000",
		"E235+N": "E235+N", "E235 + C": "E235+C", "E235": "", "C45": "", "c45+qt": "C45+QT", "EN 10083-2 C45E+N": "C45+N",
		"1.4301": "1.4301", "X5CrNi18-10": "1.4301", "x5crni18-10 (1.4301)": "1.4301", "EN 10088-2 1.4404": "1.4404", "X5CrNi18-10 (1.4404)": "",
		"GJS-400-15": "EN-GJS-400-15", "PA66 GF30": "PA66-GF30", "PC/ABS": "PC+ABS",
		"DC04 (1.0347)": "", "DC40": "", "DC": "", "": "", "M01": "", "S1": "", "PA": "", "steel": "", "mild steel": "", "EN 10130": "", "+Z100": "",
	} {
		if got := lib.Grade(text).nameOr(""); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
	for text, want := range map[string]string{"DC40": "DC04", "EN AW-5754": "EN AW-5754-H111, EN AW-5754-H22", "E235": "E235+N, E235+A, E235+SR, E235+LC",
		"DX54+Z100": "DX54D", "tantalum": ""} {
		if got := strings.Join(lib.NearGrades(text), ", "); got != want {
			t.Errorf("near %q: %q, want %q", text, got, want)
		}
	}
	for _, g := range lib.Grades {
		for _, name := range g.names() {
			if lib.Grade(name) != g {
				t.Errorf("%q does not lead to %s", name, g.Name)
			}
		}
	}
}

package scenarios

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"piececost/costmodel"
)

// screened are cases of screening relations: inputs in GPa, kg/m3, MPa and mm, and what is to come out of them, ratios and mm.
var screened = []struct {
	name       string
	base, with [4]float64 // modulus, density, yield strength, gauge
	want       map[costmodel.ComparedName]float64
	digits     float64 // by which the figures are given
}{
	// the textbooks' example of a steel panel made of aluminium: a gauge of about 1.44 times and half the mass (from memory), here by
	// hand, the cube root of 3 being 1.4422496
	{"steel panel in aluminium", [4]float64{210, 7850, 200, 1}, [4]float64{70, 2700, 200, 1}, map[costmodel.ComparedName]float64{
		"gauge_of_equal_stiffness": 1.4422496, "mass_ratio_of_equal_stiffness": 0.4960604, "stiffness_ratio": 1. / 3, "mass_ratio": 2700. / 7850,
		"dent_resistance_ratio": 1, "section_strength_ratio": 1}, 1e-6},
	// by hand: the gauge of equal dent resistance at 1.44 times the yield strength is 1/1.2 of it, that of a section 1/1.44
	{"a stronger steel", [4]float64{210, 7850, 200, 0.9}, [4]float64{210, 7850, 288, 0.75}, map[costmodel.ComparedName]float64{
		"gauge_of_equal_stiffness": 0.9, "mass_ratio_of_equal_stiffness": 1, "stiffness_ratio": 125. / 216, "mass_ratio": 5. / 6,
		"dent_resistance_ratio": 1, "gauge_of_equal_dent_resistance": 0.75, "mass_ratio_of_equal_dent_resistance": 5. / 6,
		"section_strength_ratio": 1.2, "gauge_of_equal_section_strength": 0.625, "mass_ratio_of_equal_section_strength": 0.625 / 0.9}, 1e-12},
	// by hand: everything differs; modulus by 8, so that the cube root is 2
	{"all of it", [4]float64{200, 8000, 400, 2}, [4]float64{25, 2000, 100, 3}, map[costmodel.ComparedName]float64{
		"gauge_of_equal_stiffness": 4, "mass_ratio_of_equal_stiffness": 0.5, "stiffness_ratio": 27. / 64, "mass_ratio": 0.375,
		"dent_resistance_ratio": 0.5625, "gauge_of_equal_dent_resistance": 4, "mass_ratio_of_equal_dent_resistance": 0.5,
		"section_strength_ratio": 0.375, "gauge_of_equal_section_strength": 8, "mass_ratio_of_equal_section_strength": 1}, 1e-12},
}

// screeningMisses compares relations with the cases; empty where they give what they should.
func screeningMisses(c *costmodel.Comparison) string {
	names := [4]costmodel.ComparedName{"modulus", "density", "yield_strength", "gauge"}
	factor := [4]float64{1e9, 1, 1e6, 1e-3}
	for _, k := range screened {
		in := map[costmodel.ComparedName]float64{}
		for i, n := range names {
			in["base_"+n], in[n] = k.base[i]*factor[i], k.with[i]*factor[i]
		}
		got := c.Of(in)
		for _, name := range sortedKeys(textKeys(k.want)) {
			want := k.want[costmodel.ComparedName(name)]
			if len(name) > 6 && name[:6] == "gauge_" {
				want *= 1e-3
			}
			if v := got.Number(costmodel.ComparedName(name)); !(math.Abs(v-want) <= k.digits*want) {
				return fmt.Sprintf("%s: %s is %v, want %v", k.name, name, v, want)
			}
		}
	}
	return ""
}

func textKeys(m map[costmodel.ComparedName]float64) map[string]bool {
	out := map[string]bool{}
	for n := range m {
		out[string(n)] = true
	}
	return out
}

// TestScreening holds the screening relations against figures by hand, and changes each of them in turn: a figure must notice. At the gauge
// of equality the ratio is 1.
func TestScreening(t *testing.T) {
	lib, m := testLibrary(t), sampleModel(t)
	if miss := screeningMisses(m.Schema.Screening); miss != "" {
		t.Error(miss)
	}
	file := lib.Screening
	noticed := 0
	for _, u := range newMutator(&costmodel.Library{Scopes: []*costmodel.Template{file}}, m.Schema.Units).all() {
		broken, changed := *lib, *file
		changed.Items = slices.Clone(file.Items)
		changed.Items[slices.IndexFunc(changed.Items, func(it costmodel.Item) bool { return it.Name == u.item })].Is = u.text
		broken.Screening = &changed
		c := costmodel.New(m.Case, &broken).Schema.Screening
		switch {
		case c == nil:
		case screeningMisses(c) == "":
			t.Errorf("nothing notices %s: %s", u.item, u.text)
		default:
			noticed++
		}
	}
	if noticed < 40 {
		t.Errorf("only %d noticed", noticed)
	}
	for ratio, gauge := range map[costmodel.ComparedName]costmodel.ComparedName{"stiffness_ratio": "gauge_of_equal_stiffness",
		"dent_resistance_ratio": "gauge_of_equal_dent_resistance", "section_strength_ratio": "gauge_of_equal_section_strength"} {
		in := map[costmodel.ComparedName]float64{"base_modulus": 206e9, "base_density": 7850, "base_yield_strength": 187e6, "base_gauge": 0.7e-3,
			"modulus": 69e9, "density": 2710, "yield_strength": 133e6, "gauge": 1e-3}
		in["gauge"] = m.Schema.Screening.Of(in).Number(gauge)
		if v := m.Schema.Screening.Of(in).Number(ratio); math.Abs(v-1) > 1e-12 {
			t.Errorf("%s at the %s is %v", ratio, gauge, v)
		}
	}
}

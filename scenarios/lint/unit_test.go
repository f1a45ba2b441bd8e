package lint

import (
	"testing"

	"piececost/costmodel/units"
)

// TestUnitsOfTexts: what is read as a number with a unit, and what is a key, a name or a range.
func TestUnitsOfTexts(t *testing.T) {
	for _, c := range []struct{ text, unit string }{
		{"12 mm", "mm"}, {"12mm", "mm"}, {"0,5 in", "in"}, {"1 200 mm", "mm"}, {"-3.5e2 kg", "kg"}, {"5 kg/m³", "kg/m³"}, {"12 EUR/h", "EUR/h"},
		{"€ 12.50", "€"}, {"$3", "$"}, {"CHF 12", "CHF "}, {"4 €/kg", "€/kg"}, {"2 hrs", "hrs"}, {"3 h", "h"},
		{"2a", ""}, {"2d", ""}, {"12", ""}, {"5 %", ""}, {"3 pcs", ""}, {"mm 12", ""}, {"10-12 mm", ""}, {"12 mm sheet", ""}, {"M8 x 1.25", ""},
		{"3 shifts", ""}, {"ABC 12", ""}, {"", ""}, {"12 mm x 3 mm", ""},
	} {
		u, ok := unitOfText(c.text)
		if ok != (c.unit != "") || ok && !means(u, c.unit) {
			t.Errorf("%q: unit %q, want %q", c.text, u.Text, c.unit)
		}
	}
}

// TestUnitsOfFormats: the words of a number format's first section.
func TestUnitsOfFormats(t *testing.T) {
	for _, c := range []struct{ format, unit string }{
		{`0.0" mm"`, "mm"}, {`0.0\ \m\m`, "mm"}, {`#,##0.00 [$€-407]`, "€"}, {`[$USD] #,##0`, "USD"}, {`"$"#,##0.00`, "$"},
		{`0.00" EUR/kg";-0.00" in"`, "EUR/kg"},
		{`[Red]0.0" kg"`, "kg"}, {`#,##0.00\ €`, "€"}, {`_-* #,##0.00" €"_-`, "€"}, {`$#,##0`, "$"},
		{"0.00", ""}, {"0%", ""}, {`0" pcs"`, ""}, {`"approx. "0" mm"`, ""}, {"yyyy-mm-dd", ""}, {"mm/dd/yyyy", ""}, {`0" mm`, ""}, {"[$", ""}, {`0\`, ""},
		{"General", ""},
	} {
		u, ok := unitOfFormat(c.format)
		if ok != (c.unit != "") || ok && !means(u, c.unit) {
			t.Errorf("%q: unit %q, want %q", c.format, u.Text, c.unit)
		}
	}
}

// TestSameUnit: written differently, meaning the same, and the other way round.
func TestSameUnit(t *testing.T) {
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"kg/m3", "kg/m^3", true}, {"kg/m3", "kg/m³", true}, {"€", "EUR", true}, {"hrs", "h", true}, {"1/yr", "/yr", false},
		{"mm", "in", false}, {"EUR/kg", "EUR/t", false}, {"USD", "EUR", false}, {"USD", "CAD", false}, {"s", "yr", false},
	} {
		a, okA := unitOf(c.a)
		b, okB := unitOf(c.b)
		if same := okA && okB && sameUnit(a, b); same != c.same {
			t.Errorf("%s and %s: same %v, want %v", c.a, c.b, same, c.same)
		}
	}
}

func means(u units.Unit, text string) bool {
	v, ok := unitOf(text)
	return ok && sameUnit(u, v)
}

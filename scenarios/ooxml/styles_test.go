package ooxml

import (
	"strings"
	"testing"
)

// TestFormatUse: the marks of number formats are those of ECMA-376 part 1, 18.8.31.
func TestFormatUse(t *testing.T) {
	percent, date, none := Style{Percent: true}, Style{Date: true}, Style{}
	for format, want := range map[string]Style{
		"":                       none,
		"General":                none,
		"@":                      none,
		"0.00":                   none,
		"#,##0.00_);[Red](0.00)": none,
		"# ?/?":                  none,
		"0.00E+00":               none,
		`0.00" kg"`:              none,
		`0.0"%"`:                 none,
		`0.0\%`:                  none,
		`0\d\y`:                  none,
		`General"d"`:             none,
		`"due" 0`:                none,
		`0_d0`:                   none,
		`0*d`:                    none,
		"[Red]0.00":              none,
		"[$USD] #,##0.00":        none,
		"[$€-407] #,##0.00":      none,
		"[>100]0;[Red]0":         none,
		"[Color10]0":             none,
		"[":                      none,
		`0"`:                     none,
		`0\`:                     none,
		`0 "open d`:              none,
		"0%":                     percent,
		"0.0%":                   percent,
		"0.00 %;[Red]-0.00 %":    percent,
		"[Blue]0%":               percent,
		`"a"%`:                   percent,
		"0;0%":                   none, // only the first section says what positive numbers mean
		"yyyy-mm-dd":             date,
		"d/m/yy":                 date,
		"YYYY":                   date,
		"[$-409]d mmm yyyy;@":    date,
		"h:mm AM/PM":             date,
		"mm:ss.0":                date,
		"[h]:mm":                 date,
		"[h]":                    date,
		"[mm]":                   date,
		"[ss].00":                date,
		`[Red]yyyy"-"mm`:         date,
	} {
		if got := formatUse(format); got != want {
			t.Errorf("%s: %+v, want %+v", format, got, want)
		}
	}
}

// TestBuiltInFormats: ECMA-376 part 1, 18.8.30.
func TestBuiltInFormats(t *testing.T) {
	for id := -1; id < 164; id++ {
		want := Style{}
		switch {
		case id == 9, id == 10:
			want.Percent = true
		case id >= 14 && id <= 22, id >= 45 && id <= 47:
			want.Date = true
		case id >= 23: // of some languages only, or not given
			continue
		}
		if got := builtIn(id); got != want {
			t.Errorf("%d: %+v, want %+v", id, got, want)
		}
	}
	if !builtIn(36).Date || !builtIn(57).Date || builtIn(37) != (Style{}) || builtIn(49) != (Style{}) {
		t.Error("27-36 and 50-58 are dates in East Asia; 37-44 and 48, 49 are none")
	}
}

// TestStyles reads the styles part; the style of a cell is its place in cellXfs, and formats stand in other lists too.
func TestStyles(t *testing.T) {
	part := `<styleSheet><numFmts><numFmt numFmtId="164" formatCode="0.0%"/><numFmt numFmtId="165" formatCode="yyyy&quot;-&quot;mm"/></numFmts>
<cellStyleXfs><xf numFmtId="9"/></cellStyleXfs>
<cellXfs><xf/><xf numFmtId="164"/><xf numFmtId="165"><alignment/></xf><xf numFmtId="10"/><xf numFmtId="14"/><xf numFmtId="999"/></cellXfs>
<cellStyles/><dxfs><dxf><numFmt numFmtId="164" formatCode="yyyy"/></dxf></dxfs></styleSheet>`
	p := opened(t, plainSheet, "xl/styles.xml", part)
	want := []Style{{}, {Percent: true}, {Date: true}, {Percent: true}, {Date: true}, {}}
	for i, w := range want {
		if got := p.Style(i); got != w {
			t.Errorf("style %d: %+v, want %+v", i, got, w)
		}
	}
	if len(p.styles) != len(want) || p.Style(-1) != (Style{}) || p.Style(6) != (Style{}) {
		t.Errorf("%d styles; a style that is not there means nothing", len(p.styles))
	}
}

// TestStylesPart: a share would be read as a number where the styles are lost, so broken ones are refused.
func TestStylesPart(t *testing.T) {
	for _, c := range []struct{ name, part, want string }{
		{"absent", absent, ""},
		{"of no bytes", "", ""},
		{"without lists", "<styleSheet/>", ""},
		{"cut off", "<styleSheet><cellXfs><xf numFmtId=\"9\"/>", "the part xl/styles.xml is broken: its tags do not match"},
		{"too many", "<styleSheet><cellXfs>" + strings.Repeat("<xf/>", maxStyles+1) + "</cellXfs></styleSheet>",
			"the part xl/styles.xml has more than 1048576 styles"},
	} {
		_, err := openParts(t, plainSheet, "xl/styles.xml", c.part)
		checkError(t, "styles "+c.name, err, c.want)
	}
}

func TestSharedStrings(t *testing.T) {
	part := `<sst count="9" uniqueCount="9">
<si><t>plain</t></si><si><t xml:space="preserve"> kept </t></si><si/><si><t/></si>
<si><r><rPr><b/><rFont val="t"/></rPr><t>rich </t></r><r><t>text</t></r></si>
<si><t>課</t><rPh sb="0" eb="1"><t>カ</t></rPh><phoneticPr fontId="1"/></si>
<si><t>a_x000D_b &amp; <![CDATA[<c>&]]></t></si><si><t>_x00</t><t>41_</t></si><si><rPh/><t>after</t></si></sst>`
	p := opened(t, plainSheet, "xl/sharedStrings.xml", part)
	want := []string{"plain", " kept ", "", "", "rich text", "課", "a\rb & <c>&", "A", "after"}
	if strings.Join(p.strings, "|") != strings.Join(want, "|") {
		t.Errorf("got %q, want %q", p.strings, want)
	}
}

func TestSharedStringsPart(t *testing.T) {
	for _, c := range []struct{ name, part, want string }{
		{"absent", absent, ""},
		{"empty", "<sst/>", ""},
		{"cut off", "<sst><si><t>a", "the part xl/sharedStrings.xml is broken: it ends in the middle of a tag"},
		{"cut between texts", "<sst><si><t>a</t></si>", "the part xl/sharedStrings.xml is broken: its tags do not match"},
		{"with a document type", "<!DOCTYPE sst><sst/>", "the part xl/sharedStrings.xml is broken: it holds a document type, which no workbook needs"},
	} {
		_, err := openParts(t, plainSheet, "xl/sharedStrings.xml", c.part)
		checkError(t, "shared strings "+c.name, err, c.want)
	}
}

package ooxml

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// outline writes the tokens of a part on a line: <name attrs> </name> <name/> "text".
func outline(data string) (string, error) {
	s := scanner{data: []byte(data)}
	var out []string
	for {
		t, err := s.next()
		if err != nil {
			return strings.Join(out, " "), err
		}
		switch {
		case t.kind == endOfPart:
			return strings.Join(out, " "), s.whole()
		case t.kind == text:
			out = append(out, fmt.Sprintf("%q", t.chars()))
		case t.kind == endTag:
			out = append(out, "</"+string(t.name)+">")
		case t.empty:
			out = append(out, "<"+string(t.name)+string(t.attrs)+"/>")
		default:
			out = append(out, "<"+string(t.name)+string(t.attrs)+">")
		}
	}
}

// TestTokens: the rules are those of XML 1.0 (W3C, fifth edition); the section stands beside each.
func TestTokens(t *testing.T) {
	for _, c := range []struct{ name, part, want string }{
		{"elements and text (3)", `<a><b>x</b></a>`, `<a> <b> "x" </b> </a>`},
		{"empty element (3.1)", `<a><b/><c /></a>`, `<a> <b/> <c /> </a>`},
		{"blanks in tags (3.1)", "<a \n k = 'v'\t></a >", "<a \n k = 'v'\t> </a>"},
		{"> in an attribute (3.1)", `<a f="x>1" g='>'>y</a>`, `<a f="x>1" g='>'> "y" </a>`},
		{"/ in an attribute", `<a f="x/"/>`, `<a f="x/"/>`},
		{"other quote in an attribute (2.3)", `<a f="it's"/>`, `<a f="it's"/>`},
		{"CDATA (2.7)", `<a><![CDATA[<b> & ]] >]]></a>`, `<a> "<b> & ]] >" </a>`},
		{"comment (2.5)", `<a><!-- <b> "' -->x</a>`, `<a> "x" </a>`},
		{"processing instruction (2.6)", `<?xml version="1.0"?><?p <q> ?><a/>`, `<a/>`},
		{"prefix (Namespaces in XML, 4)", `<x:a><x:b/></x:a>`, `<a> <b/> </a>`},
		{"entities (4.6)", `<a>&lt;&gt;&amp;&quot;&apos;</a>`, `<a> "<>&\"'" </a>`},
		{"numbered characters (4.1)", `<a>&#65;&#x42;&#x1F600;</a>`, `<a> "AB😀" </a>`},
		{"unknown entities stay", `<a>&foo; &#xD800; &#x110000; &#; & ;&</a>`, `<a> "&foo; &#xD800; &#x110000; &#; & ;&" </a>`},
		{"an entity is resolved once", `<a>&amp;lt;</a>`, `<a> "&lt;" </a>`},
		{"line ends (2.11)", "<a>x\r\ny\rz&#13;</a>", `<a> "x\ny\nz\r" </a>`},
		{"line ends in CDATA (2.11)", "<a><![CDATA[x\r\n&lt;]]></a>", `<a> "x\n&lt;" </a>`},
	} {
		if got, err := outline(c.part); err != nil || got != c.want {
			t.Errorf("%s: got %s, %v; want %s", c.name, got, err, c.want)
		}
	}
}

// TestBrokenParts: parts that are cut off or hostile are refused, wherever the cut is.
func TestBrokenParts(t *testing.T) {
	for _, c := range []struct {
		part string
		want error
	}{
		{`<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>`, errDocType},
		{`<a><!ELEMENT b></a>`, errDocType},
		{`<a><b k="v`, errCut},
		{`<a><b`, errCut},
		{`<a></b`, errCut},
		{`<a><`, errCut},
		{`<a><!-- x`, errCut},
		{`<a><![CDATA[ x ]]`, errCut},
		{`<a><?p`, errCut},
		{`<a k="<"/>`, errTag},
		{`<a <b/>`, errTag},
		{`<a><b></b>`, errNesting},
		{`<a></a></a>`, errNesting},
		{`<a>x`, errNesting},
		{``, errEmpty},
		{`  <!-- nothing --> `, errEmpty},
	} {
		if got, err := outline(c.part); !errors.Is(err, c.want) {
			t.Errorf("%s: got %s, %v; want %v", c.part, got, err, c.want)
		}
	}
}

// TestEveryCut cuts a part after each byte: no cut reads as a whole part.
func TestEveryCut(t *testing.T) {
	part := `<?xml version="1.0"?><w xmlns:r="u"><d><c r="A1" t='s'><v>1</v><!-- c --></c><c/><![CDATA[x]]></d></w>`
	if _, err := outline(part); err != nil {
		t.Fatal(err)
	}
	for i := range part {
		if got, err := outline(part[:i]); err == nil {
			t.Errorf("cut after byte %d reads as %s", i, got)
		}
	}
}

func TestAttributes(t *testing.T) {
	for _, c := range []struct {
		tag, name, want string
		ok              bool
	}{
		{`<c r="A1" t="s"/>`, "t", "s", true},
		{`<c r='A1'/>`, "r", "A1", true},
		{`<c r = "A1" />`, "r", "A1", true},
		{"<c\n\tr=\"A1\"\n/>", "r", "A1", true},
		{`<c r="A1"/>`, "s", "", false},
		{`<c/>`, "r", "", false},
		{`<c r=""/>`, "r", "", true},
		{`<c n="a &lt; &quot;b&quot; &#x41;"/>`, "n", `a < "b" A`, true},
		{`<c n="a=b r='x'" r="A1"/>`, "r", "A1", true},
		{`<sheet name="x" r:id="rId1"/>`, "id", "rId1", true},
		{`<c xmlns:r="http://a" r="A1"/>`, "r", "A1", true},
		{`<c xmlns:r="http://a"/>`, "r", "", false},
		{`<c x:r="B2" r="A1"/>`, "r", "A1", true},
		{`<c x:r="" id="1"/>`, "r", "", true},
		{`<c rr="1" r="2"/>`, "r", "2", true},
		{`<c r=A1/>`, "r", "", false},
		{`<c r/>`, "r", "", false},
	} {
		s := scanner{data: []byte(c.tag)}
		tok, err := s.next()
		if err != nil {
			t.Fatal(c.tag, err)
		}
		if got, ok := tok.attr(c.name); got != c.want || ok != c.ok {
			t.Errorf("%s: %s is %q, %v; want %q, %v", c.tag, c.name, got, ok, c.want, c.ok)
		}
	}
}

// TestPlainString: ECMA-376 part 1, 22.9.2.19 (ST_Xstring) and its examples: _x0008_ is a backspace, a text that looks
// like an escape has its first underscore escaped.
func TestPlainString(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", ""},
		{"plain", "plain"},
		{"_x0008_", "\b"},
		{"_x0041_BC", "ABC"},
		{"a_x000D_\nb", "a\r\nb"},
		{"_x005F_x0008_", "_x0008_"},
		{"_x005F_", "_"},
		{"_x00e4__x00C4_", "äÄ"},
		{"_x0041_x0042_", "Ax0042_"},
		{"_x00", "_x00"},
		{"_x004G_", "_x004G_"},
		{"_x+041_", "_x+041_"},
		{"_X0041_", "_X0041_"},
		{"max_x0041", "max_x0041"},
		{"_xD83D__xDE00_", "😀"},
		{"_xD83D_x", "\uFFFDx"},
		{"_xDE00__xD83D_", "\uFFFD\uFFFD"},
	} {
		if got := plainString(c.in); got != c.want {
			t.Errorf("%q reads %q, want %q", c.in, got, c.want)
		}
	}
}

// TestTextsAreLinear: a text in very many pieces takes time in proportion; joined by copying, this one moved 100 GB.
func TestTextsAreLinear(t *testing.T) {
	const pieces = 500_000
	s := scanner{data: []byte("<v>" + strings.Repeat("a<!---->", pieces) + "</v>")}
	if _, err := s.next(); err != nil {
		t.Fatal(err)
	}
	got, err := s.text("v")
	if err != nil || len(got) != pieces {
		t.Errorf("%d bytes, %v", len(got), err)
	}
}

// TestUTF8Of: byte order marks (Unicode 16, 23.8) and UTF-16 without one (XML 1.0, appendix F).
func TestUTF8Of(t *testing.T) {
	for _, c := range []struct{ name, in string }{
		{"UTF-8", "<ä😀/>"},
		{"UTF-8 with mark", "\xEF\xBB\xBF<ä😀/>"},
		{"little endian", "\xFF\xFE" + utf16Bytes("<ä😀/>", 0, 1)},
		{"big endian", "\xFE\xFF" + utf16Bytes("<ä😀/>", 1, 0)},
		{"little endian without mark", utf16Bytes("<ä😀/>", 0, 1)},
		{"big endian without mark", utf16Bytes("<ä😀/>", 1, 0)},
	} {
		if got := string(utf8Of([]byte(c.in))); got != "<ä😀/>" {
			t.Errorf("%s: got %q", c.name, got)
		}
	}
}

package ooxml

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"io"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

const (
	plainSheet = `<worksheet><sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData></worksheet>`
	absent     = "\x00absent" // instead of a part's text: leave it out
	officeRel  = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
)

// packageOf zips a small workbook with one sheet, Plan; more are names and texts of parts that replace its own or join.
func packageOf(t testing.TB, sheet string, more ...string) []byte {
	t.Helper()
	parts := []string{
		"[Content_Types].xml", `<Types/>`,
		"_rels/.rels", `<Relationships><Relationship Id="rId1" Type="` + officeRel + `officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml", `<workbook><workbookPr/><sheets><sheet name="Plan" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels", `<Relationships><Relationship Id="rId1" Type="` + officeRel + `worksheet" Target="worksheets/sheet1.xml"/>` +
			`<Relationship Id="rId2" Type="` + officeRel + `styles" Target="styles.xml"/><Relationship Id="rId3" Type="` + officeRel +
			`sharedStrings" Target="sharedStrings.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml", sheet,
		"xl/styles.xml", `<styleSheet><cellXfs><xf numFmtId="0"/><xf numFmtId="9"/></cellXfs></styleSheet>`,
		"xl/sharedStrings.xml", `<sst><si><t>zero</t></si><si><t>one</t></si></sst>`,
	}
	for i := 0; i < len(more); i += 2 {
		if at := slices.Index(parts, more[i]); at >= 0 {
			parts[at+1] = more[i+1]
		} else {
			parts = append(parts, more[i], more[i+1])
		}
	}
	return zipped(t, parts...)
}

// zipped zips parts in the order given; a name may come twice.
func zipped(t testing.TB, parts ...string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestSpeed) })
	for i := 0; i < len(parts); i += 2 {
		if parts[i+1] == absent {
			continue
		}
		h := &zip.FileHeader{Name: parts[i], Method: zip.Deflate}
		if parts[i+1] == "" {
			h.Method = zip.Store
		}
		w, err := z.CreateHeader(h)
		if err == nil {
			_, err = io.WriteString(w, parts[i+1])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func openParts(t testing.TB, sheet string, more ...string) (*Package, error) {
	t.Helper()
	data := packageOf(t, sheet, more...)
	return Open(bytes.NewReader(data), int64(len(data)))
}

func opened(t testing.TB, sheet string, more ...string) *Package {
	t.Helper()
	p, err := openParts(t, sheet, more...)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// checkError wants an error of that text, or none for "". Every error is one short line.
func checkError(t testing.TB, name string, err error, want string) {
	t.Helper()
	got := ""
	if err != nil {
		got = err.Error()
	}
	if got != want {
		t.Errorf("%s: got error %q, want %q", name, got, want)
	}
	checkLine(t, name, err)
}

func checkLine(t testing.TB, name string, err error) {
	t.Helper()
	if err == nil {
		return
	}
	text := err.Error()
	if text == "" || len(text) > 600 || strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) {
		t.Errorf("%s: the error is no short line of text: %q", name, text)
	}
}

func utf16Bytes(s string, low, high int) string {
	var out []byte
	for _, u := range utf16.Encode([]rune(s)) {
		pair := [2]byte{}
		pair[low], pair[high] = byte(u), byte(u>>8)
		out = append(out, pair[:]...)
	}
	return string(out)
}

// TestForms: one workbook in the many forms that programs write it in; each reads the same.
func TestForms(t *testing.T) {
	workbook := `<workbook><sheets><sheet name="Plan" sheetId="1" r:id="rId1"/></sheets></workbook>`
	strict := func(s string) string {
		return strings.ReplaceAll(s, officeRel, "http://purl.oclc.org/ooxml/officeDocument/relationships/")
	}
	rels := func(target string) string {
		return `<Relationships><Relationship Target="` + target + `" Type="` + officeRel + `worksheet" Id="rId1"/></Relationships>`
	}
	root := `<Relationships><Relationship Id="rId1" Type="` + officeRel + `officeDocument" Target="xl/workbook.xml"/></Relationships>`
	for name, more := range map[string][]string{
		"as it is":        {},
		"UTF-8 with mark": {"xl/workbook.xml", "\xEF\xBB\xBF" + workbook, "xl/worksheets/sheet1.xml", "\xEF\xBB\xBF" + plainSheet},
		"UTF-16 little endian": {"xl/workbook.xml", "\xFF\xFE" + utf16Bytes(workbook, 0, 1), "xl/worksheets/sheet1.xml",
			"\xFF\xFE" + utf16Bytes(plainSheet, 0, 1)},
		"UTF-16 big endian": {"xl/workbook.xml", "\xFE\xFF" + utf16Bytes(workbook, 1, 0), "xl/worksheets/sheet1.xml",
			"\xFE\xFF" + utf16Bytes(plainSheet, 1, 0)},
		"strict (ECMA-376 part 1)": {"_rels/.rels", strict(root), "xl/_rels/workbook.xml.rels", strict(rels("worksheets/sheet1.xml"))},
		"prefixed elements": {"xl/workbook.xml",
			`<x:workbook xmlns:x="m" xmlns:id="n"><x:sheets><x:sheet xmlns:name="o" name="Plan" q:id="rId1"/></x:sheets></x:workbook>`,
			"xl/worksheets/sheet1.xml", strings.NewReplacer("</", "</x:", "<", "<x:").Replace(plainSheet)},
		"absolute targets":                {"xl/_rels/workbook.xml.rels", rels("/xl/worksheets/sheet1.xml")},
		"targets with .. and .":           {"xl/_rels/workbook.xml.rels", rels("../xl/./worksheets/sheet1.xml")},
		"absolute target with ..":         {"xl/_rels/workbook.xml.rels", rels("/xl/charts/../worksheets/sheet1.xml")},
		"target with backslashes":         {"xl/_rels/workbook.xml.rels", rels(`worksheets\sheet1.xml`)},
		"target in other case":            {"xl/_rels/workbook.xml.rels", rels("Worksheets/SHEET1.XML")},
		"part name with backslashes":      {"xl/worksheets/sheet1.xml", absent, `xl\worksheets\sheet1.xml`, plainSheet},
		"part name with a slash in front": {"xl/worksheets/sheet1.xml", absent, "/xl/worksheets/sheet1.xml", plainSheet},
		"no styles, no shared strings": {"xl/_rels/workbook.xml.rels", rels("worksheets/sheet1.xml"), "xl/styles.xml", absent, "xl/sharedStrings.xml",
			absent},
		"their parts lost": {"xl/styles.xml", absent, "xl/sharedStrings.xml", absent},
		"styles named twice, one unread": {"xl/_rels/workbook.xml.rels", strings.Replace(rels("worksheets/sheet1.xml"), "</R",
			strings.Repeat(`<Relationship Id="s" Type="styles" Target="styles.xml"/>`, 2)+"</R", 1)},
		"workbook in another folder": {"_rels/.rels", strings.Replace(root, "xl/workbook.xml", "book.xml", 1), "book.xml", workbook,
			"_rels/book.xml.rels", rels("xl/worksheets/sheet1.xml")},
		"an external link is no part of it": {"xl/_rels/workbook.xml.rels", strings.Replace(rels("worksheets/sheet1.xml"), "</R",
			`<Relationship Id="rId1" Type="worksheet" TargetMode="External" Target="x.xml"/></R`, 1)},
	} {
		p, err := openParts(t, plainSheet, more...)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		g, err := p.Read(p.Sheet("PLAN"))
		if err != nil || len(g.Cells) != 1 || g.Cells[0].Value != "1" || len(p.Sheets) != 1 || p.Sheets[0].Name != "Plan" || len(p.styles) > 2 {
			t.Errorf("%s: %+v, %v, %d styles", name, g, err, len(p.styles))
		}
	}
}

func TestSheets(t *testing.T) {
	p := opened(t, plainSheet, "xl/workbook.xml", `<workbook><workbookPr date1904="1"/><sheets>
<sheet name="Plan" r:id="rId1"/><sheet name="a &amp; b_x005F_x0041_" state="hidden" r:id="rId1"/><sheet name="Chart" state="veryHidden" r:id="rId9"/>
<sheet name="Module" r:id=""/><sheet name="Lost" r:id="rId77"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels", `<Relationships><Relationship Id="rId1" Type="a/worksheet" Target="worksheets/sheet1.xml"/><Relationship `+
			`Id="rId9" Type="a/chartsheet" Target="no.xml"/></Relationships>`)
	if !p.Date1904 || p.Sheet("nowhere") != nil {
		t.Error("the base of dates, or a sheet that is not there")
	}
	for i, want := range []struct {
		name, kind string
		hidden     bool
		cells      int
		err        string
	}{
		{"Plan", "worksheet", false, 1, ""},
		{"a & b_x0041_", "worksheet", true, 1, ""},
		{"Chart", "chartsheet", true, 0, ""},
		{"Module", "", false, 0, ""},
		{"Lost", "worksheet", false, 0, "the sheet Lost has no part"},
	} {
		s := p.Sheets[i]
		if s.Name != want.name || s.Kind != want.kind || s.Hidden != want.hidden {
			t.Errorf("got %+v, want %+v", s, want)
		}
		g, err := p.Read(&s)
		checkError(t, want.name, err, want.err)
		if err == nil && len(g.Cells) != want.cells {
			t.Errorf("%s has %d cells, want %d", want.name, len(g.Cells), want.cells)
		}
	}
}

// TestRefused: what is no workbook, or a broken one, is refused in one line.
func TestRefused(t *testing.T) {
	root := func(target string) string {
		return `<Relationships><Relationship Id="rId1" Type="a/officeDocument" Target="` + target + `"/></Relationships>`
	}
	compound := "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1" + strings.Repeat("\x00", 70000)
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "it is no zip package, or a broken one"},
		{"a text", []byte("Part,Price\n"), "it is no zip package, or a broken one"},
		{"a cut zip", packageOf(t, plainSheet)[:900], "it is no zip package, or a broken one"},
		{"an old workbook", []byte(compound + utf16Bytes("Workbook", 0, 1)), "it is a workbook of the old binary kind (.xls), or another compound file"},
		{"a password", []byte(compound + utf16Bytes("EncryptedPackage", 0, 1)), "it is protected by a password"},
		{"a password, name across a window", []byte(compound[:65528] + utf16Bytes("EncryptedPackage", 0, 1) + compound), "it is protected by a password"},
		{"a password in a zip", packageOf(t, plainSheet, "EncryptedPackage", "x"), "it is protected by a password"},
		{"encrypted entries", encryptedEntry(packageOf(t, plainSheet)), "it is protected by a password"},
		{"an empty zip", zipped(t), "it has no workbook part; it is no spreadsheet"},
		{"a zip of pictures", zipped(t, "a.png", "x"), "it has no workbook part; it is no spreadsheet"},
		{"no relations", packageOf(t, plainSheet, "_rels/.rels", absent), "it has no workbook part; it is no spreadsheet"},
		{"broken relations", packageOf(t, plainSheet, "_rels/.rels", "<Relationships"), "the part _rels/.rels is broken: it ends in the middle of a tag"},
		{"a lost workbook part", packageOf(t, plainSheet, "xl/workbook.xml", absent), "it has no workbook part; it is no spreadsheet"},
		{"a text document", packageOf(t, plainSheet, "xl/workbook.xml", "<document><body/></document>"), "its workbook part lists no sheet"},
		{"a binary workbook", packageOf(t, plainSheet, "_rels/.rels", root("xl/workbook.bin"), "xl/workbook.bin", "\x83\x01\x00"),
			"it is a binary workbook (.xlsb)"},
		{"a part twice", zipped(t, "a.xml", "", "a.xml", ""), "it holds the part a.xml twice"},
		{"a part twice but for case and slashes", zipped(t, "xl/a.xml", "", `XL\A.XML`, ""), `it holds the part XL\A.XML twice`},
		{"a name of many lines, twice", zipped(t, "a\nb\x1b[31m", "", "a\nb\x1b[31m", ""), "it holds the part a?b?[31m twice"},
		{"another encoding", packageOf(t, plainSheet, "xl/workbook.xml", "<workbook name='\xE4'/>"), "the part xl/workbook.xml is neither UTF-8 nor UTF-16"},
	} {
		p, err := Open(bytes.NewReader(c.data), int64(len(c.data)))
		checkError(t, c.name, err, c.want)
		if p != nil {
			t.Errorf("%s: a package comes with the error", c.name)
		}
	}
}

// encryptedEntry sets the flag of encryption (APPNOTE.TXT of the zip format, 4.4.4) in every entry of the directory.
func encryptedEntry(data []byte) []byte {
	out := bytes.Clone(data)
	for i := 0; ; {
		at := bytes.Index(out[i:], []byte("PK\x01\x02"))
		if at < 0 {
			return out
		}
		i += at + 8
		out[i] |= 1
	}
}

// TestLongNames: a name from the file is cut in messages.
func TestLongNames(t *testing.T) {
	name := strings.Repeat("ä", 5000)
	if got := shown(name); utf8.RuneCountInString(got) != 100 {
		t.Errorf("%d characters", utf8.RuneCountInString(got))
	}
	_, err := openParts(t, plainSheet, "_rels/.rels", `<Relationships><Relationship Id="rId1" Type="a/officeDocument" Target="`+name+`"/></Relationships>`,
		name, "<a")
	checkLine(t, "long name", err)
}

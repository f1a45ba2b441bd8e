package ooxml

import (
	"archive/zip"
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	_ "image/png" // the library wants to know a picture's size
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// A user's workbook, full of what people put into theirs. What the library can make it makes; the rest is written by
// hand below (ECMA-376 part 1 for the parts, MS-XLSX for threaded comments and sparklines).

// onePixel is a PNG of one pixel.
var onePixel, _ = base64.StdEncoding.DecodeString("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==")

// userBook makes the sheets Plan, Notes, Data, Hidden, Deep and the chart sheet Picture, Notes being shown.
func userBook(t testing.TB) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	ok := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	ok(f.SetSheetName("Sheet1", "Plan"))
	for _, name := range []string{"Notes", "Data", "Hidden", "Deep"} {
		_, err := f.NewSheet(name)
		ok(err)
	}
	ok(f.SetSheetRow("Data", "A1", &[]any{"Part", "Year", "Cost"}))
	for i := range 6 {
		ok(f.SetSheetRow("Data", fmt.Sprintf("A%d", i+2), &[]any{string(rune('A' + i%3)), 2026 + i/3, 10.5 * float64(i)}))
	}
	series := []excelize.ChartSeries{{Categories: "Data!$A$2:$A$7", Values: "Data!$C$2:$C$7"}}
	ok(f.AddChart("Notes", "E2", &excelize.Chart{Type: excelize.Line, Series: series}))
	ok(f.AddPictureFromBytes("Notes", "E20", &excelize.Picture{Extension: ".png", File: onePixel}))
	ok(f.AddPivotTable(&excelize.PivotTableOptions{DataRange: "Data!A1:C7", PivotTableRange: "Notes!A40:D50", Rows: []excelize.PivotTableField{
		{Data: "Part"}}, Data: []excelize.PivotTableField{{Data: "Cost"}}}))
	ok(f.AddTable("Data", &excelize.Table{Range: "A1:C7", Name: "Costs"}))
	ok(f.AddComment("Data", excelize.Comment{Cell: "C3", Author: "buyer", Text: "from the quote"}))
	rule := excelize.NewDataValidation(true)
	rule.SetSqref("B2:B9")
	ok(rule.SetDropList([]string{"2026", "2027"}))
	ok(f.AddDataValidation("Data", rule))
	red, err := f.NewConditionalStyle(&excelize.Style{Font: &excelize.Font{Color: "9A0511"}})
	ok(err)
	ok(f.SetConditionalFormat("Data", "C2:C7", []excelize.ConditionalFormatOptions{{Type: "cell", Criteria: ">", Format: &red, Value: "20"},
		{Type: "data_bar", Criteria: "=", MinType: "min", MaxType: "max", BarColor: "#638EC6", BarSolid: true}}))
	ok(f.AddSparkline("Notes", &excelize.SparklineOptions{Location: []string{"B2"}, Range: []string{"Data!C2:C7"}}))
	for _, n := range []excelize.DefinedName{{Name: "rate", RefersTo: "Data!$C$2"}, {Name: "rate", RefersTo: "Notes!$B$3", Scope: "Notes"},
		{Name: "piececost_total", RefersTo: "Data!$C$7"}, {Name: "Result", RefersTo: "42"},
		{Name: "_xlnm.Print_Titles", RefersTo: "Data!$1:$1", Scope: "Data"}, {Name: "_xlnm.Print_Area", RefersTo: "Notes!$A$1:$D$60", Scope: "Notes"}} {
		ok(f.SetDefinedName(&n))
	}
	ok(f.SetHeaderFooter("Data", &excelize.HeaderFooterOptions{OddHeader: "&CQuote", OddFooter: "&RPage &P of &N"}))
	ok(f.SetPageLayout("Data", &excelize.PageLayoutOptions{Orientation: ptr("landscape"), FitToWidth: ptr(1)}))
	ok(f.SetCellFormula("Notes", "B3", "Costs[[#Totals],[Cost]]+rate"))
	array, shared := excelize.STCellFormulaTypeArray, excelize.STCellFormulaTypeShared
	ok(f.SetCellFormula("Notes", "B5", "Data!C2:C4*2", excelize.FormulaOpts{Type: &array, Ref: ptr("B5:B7")}))
	ok(f.SetCellFormula("Notes", "C5", "Data!C2+1", excelize.FormulaOpts{Type: &shared, Ref: ptr("C5:C9")}))
	ok(f.SetCellHyperLink("Notes", "A9", "https://example.com/", "External"))
	ok(f.ProtectSheet("Deep", &excelize.SheetProtectionOptions{Password: "x", SelectLockedCells: true}))
	ok(f.SetSheetVisible("Hidden", false))
	ok(f.SetSheetVisible("Deep", false, true))
	ok(f.SetCustomProps(excelize.CustomProperty{Name: "Quote", Value: "Q-17"}))
	f.SetActiveSheet(1)
	ok(f.AddChartSheet("Picture", &excelize.Chart{Type: excelize.Col, Series: series}))
	buf, err := f.WriteToBuffer()
	ok(err)
	return buf.Bytes()
}

func ptr[T any](v T) *T { return &v }

// A part of a package that a test changes, and its place in the zip.
type userPart struct{ name, text string }

type userParts []userPart

func partsOf(t testing.TB, data []byte) userParts {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var out userParts
	text := partBytes(t, data)
	for _, f := range z.File {
		out = append(out, userPart{f.Name, text[f.Name]})
	}
	return out
}

func (u userParts) zip(t testing.TB) []byte {
	var flat []string
	for _, p := range u {
		flat = append(flat, p.name, p.text)
	}
	return zipped(t, flat...)
}

func (u userParts) at(name string) *userPart {
	for i := range u {
		if u[i].name == name {
			return &u[i]
		}
	}
	return &userPart{}
}

// before puts text before a mark in a part.
func (u userParts) before(t testing.TB, name, mark, text string) {
	t.Helper()
	p := u.at(name)
	if strings.Count(p.text, mark) == 0 {
		t.Fatalf("%s has no %s", name, mark)
	}
	i := strings.LastIndex(p.text, mark)
	p.text = p.text[:i] + text + p.text[i:]
}

func (u userParts) replace(t testing.TB, name, old, with string) {
	t.Helper()
	p := u.at(name)
	if !strings.Contains(p.text, old) {
		t.Fatalf("%s has no %s:\n%.600s", name, old, p.text)
	}
	p.text = strings.ReplaceAll(p.text, old, with)
}

// withParts adds what the library can't make: custom XML, threaded comments and their persons, an external link, macros,
// printer settings, a calculation chain, a part that nothing leads to.
func withParts(t testing.TB, u userParts) userParts {
	t.Helper()
	rel := func(id, kind, target string) string {
		return `<Relationship Id="` + id + `" Type="` + kind + `" Target="` + target + `"/>`
	}
	microsoft := "http://schemas.microsoft.com/office/"
	u.before(t, "xl/_rels/workbook.xml.rels", "</Relationships>", rel("rIdP2", relationsNS+"/externalLink", "externalLinks/externalLink1.xml")+rel("rId90",
		microsoft+"2006/relationships/vbaProject", "vbaProject.bin")+
		rel("rId91", microsoft+"2017/10/relationships/person", "persons/person.xml")+rel("rId92", relationsNS+"/calcChain", "calcChain.xml")+rel("rId93",
		relationsNS+"/customXml", "../customXml/item1.xml"))
	u.before(t, "xl/workbook.xml", "<definedNames>", `<externalReferences><externalReference r:id="rIdP2"/></externalReferences>`)
	sheet := strings.TrimPrefix(u.sheetPart(t, "Data"), "xl/worksheets/")
	u.before(t, "xl/worksheets/_rels/"+sheet+".rels", "</Relationships>", rel("rId95", microsoft+"2017/10/relationships/threadedComment",
		"../threadedComments/threadedComment1.xml")+rel("rId96", relationsNS+"/printerSettings", "../printerSettings/printerSettings1.bin"))
	u.before(t, typesPart, "</Types>", `<Default Extension="bin" ContentType="application/vnd.ms-office.vbaProject"/><Override `+
		`PartName="/xl/externalLinks/externalLink1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.externalLink+xml"/>`+
		`<Override PartName="/xl/calcChain.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.calcChain+xml"/><Override `+
		`PartName="/xl/threadedComments/threadedComment1.xml" ContentType="application/vnd.ms-excel.threadedcomments+xml"/>`+
		`<Override PartName="/xl/persons/person.xml" ContentType="application/vnd.ms-excel.person+xml"/>`)
	return append(u, userPart{"xl/externalLinks/externalLink1.xml", `<externalLink ` +
		`xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><externalBook xmlns:r="` + relationsNS + `" r:id="rId1"/></externalLink>`},
		userPart{"xl/externalLinks/_rels/externalLink1.xml.rels",
			`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + relationsNS +
				`/externalLinkPath" Target="rates.xlsx" TargetMode="External"/></Relationships>`},
		userPart{"xl/vbaProject.bin", "\xD0\xCF\x11\xE0 macros, any bytes \x00\xFF"}, userPart{"xl/persons/person.xml",
			`<personList xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"/>`},
		userPart{"xl/threadedComments/threadedComment1.xml",
			`<ThreadedComments xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"/>`},
		userPart{"xl/calcChain.xml", `<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><c r="B3" i="2"/></calcChain>`},
		userPart{"xl/printerSettings/printerSettings1.bin", "\x00\x01\x02"}, userPart{"customXml/item1.xml", "<quote number='17'/>"},
		userPart{"xl/media/left over.emf", "nothing leads here"}, userPart{"xl/worksheets/piececost_sheet1.xml", "<of-the-users-own/>"},
		userPart{"xl/charts/", ""})
}

// sheetPart is the part of a sheet by its name.
func (u userParts) sheetPart(t testing.TB, name string) string {
	p := openBytes(t, u.zip(t))
	return p.PartOf(p.Sheet(name))
}

// userForms are the forms in which programs write the same workbook, and settings of it.
var userForms = []struct {
	name   string
	change func(testing.TB, userParts) userParts
}{
	{"as it is", func(_ testing.TB, u userParts) userParts { return u }},
	{"structure locked, write reservation", func(t testing.TB, u userParts) userParts {
		u.before(t, "xl/workbook.xml", "<bookViews>", `<workbookProtection workbookPassword="CC1A" lockStructure="1"/>`)
		u.before(t, "xl/workbook.xml", "<workbookPr", `<fileSharing readOnlyRecommended="1" userName="x" reservationPassword="CC1A"/>`)
		return u
	}},
	{"dates from 1904, calculation by hand", func(t testing.TB, u userParts) userParts {
		u.replace(t, "xl/workbook.xml", "<workbookPr", `<workbookPr date1904="1" `)
		if p := u.at("xl/workbook.xml"); !strings.Contains(p.text, "<calcPr") {
			u.before(t, "xl/workbook.xml", "</workbook>", `<calcPr calcMode="manual" iterate="1" iterateDelta="0.01"/>`)
		} else {
			u.replace(t, "xl/workbook.xml", "<calcPr", `<calcPr calcMode="manual" iterate="1" iterateDelta="0.01" `)
		}
		return u
	}},
	{"absolute targets", func(t testing.TB, u userParts) userParts {
		u.replace(t, "xl/_rels/workbook.xml.rels", `Target="worksheets/`, `Target="/xl/worksheets/`)
		return u
	}},
	{"names with backslashes", func(t testing.TB, u userParts) userParts {
		for i := range u {
			u[i].name = strings.ReplaceAll(u[i].name, "xl/worksheets/sheet", `xl\worksheets\sheet`)
		}
		u.replace(t, "xl/_rels/workbook.xml.rels", `Target="worksheets/`, `Target="worksheets\`)
		return u
	}},
	{"relations declared at each sheet", func(t testing.TB, u userParts) userParts {
		u.replace(t, "xl/workbook.xml", ` xmlns:r="`+relationsNS+`"`, "")
		u.replace(t, "xl/workbook.xml", ` r:id=`, ` xmlns:r="`+relationsNS+`" r:id=`)
		return u
	}},
	{"prefixed elements", func(t testing.TB, u userParts) userParts {
		p := u.at("xl/workbook.xml")
		p.text = strings.Replace(prefixed(p.text, "x:"), "<x:workbook xmlns=", "<x:workbook xmlns:x=", 1)
		return u
	}},
	{"UTF-16", func(t testing.TB, u userParts) userParts {
		for _, name := range []string{"xl/workbook.xml", "xl/_rels/workbook.xml.rels", typesPart, "xl/styles.xml"} {
			p := u.at(name)
			p.text = "\xFF\xFE" + utf16Bytes(strings.Replace(p.text, "UTF-8", "UTF-16", 1), 0, 1)
		}
		return u
	}},
	{"no theme", func(t testing.TB, u userParts) userParts {
		u.replace(t, "xl/_rels/workbook.xml.rels", "relationships/theme", "relationships/other")
		return u
	}},
	{"no styles", func(t testing.TB, u userParts) userParts {
		rels := u.at("xl/_rels/workbook.xml.rels")
		all, err := children([]byte(rels.text), 0, len(rels.text), "Relationship", 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range all {
			if strings.Contains(string(e.attrs), "/styles\"") {
				rels.text = rels.text[:e.from] + rels.text[e.to:]
			}
		}
		u.replace(t, typesPart, "/xl/styles.xml", "/xl/no-styles.xml")
		return slices.DeleteFunc(u, func(p userPart) bool { return p.name == "xl/styles.xml" })
	}},
	{"formats in single quotes", func(t testing.TB, u userParts) userParts {
		u.before(t, "xl/styles.xml", "<fonts", `<numFmts count='1'><numFmt numFmtId='164' formatCode='"a" 0.0'/></numFmts>`)
		return u
	}},
}

// TestUserParts puts sheets into the user's workbook in all its forms: everything else stays byte for byte, the changed
// parts lose no item, names and tabs still mean the same sheets, and a second run gives the same bytes.
func TestUserParts(t *testing.T) {
	ours, fewer := ourSheets(t, "Result of test", "Second"), ourSheets(t, "Second")
	made := userBook(t)
	for _, form := range userForms {
		t.Run(form.name, func(t *testing.T) {
			before := form.change(t, withParts(t, partsOf(t, made))).zip(t)
			target := openBytes(t, before)
			once, err := putInto(target, ours)
			if err != nil {
				t.Fatal(err)
			}
			checkUser(t, before, once, 2)
			twice, err := putInto(openBytes(t, once), ours)
			if err != nil || !bytes.Equal(once, twice) {
				t.Errorf("a second run differs (%v)", err)
			}
			less, err := putInto(openBytes(t, twice), fewer)
			if err != nil {
				t.Fatal(err)
			}
			checkUser(t, before, less, 1)
			if a, b := len(partBytes(t, once)), len(partBytes(t, less)); b >= a {
				t.Errorf("%d parts with two sheets, %d with one", a, b)
			}
		})
	}
}

func checkUser(t *testing.T, before, after []byte, ours int) {
	t.Helper()
	was, is := openBytes(t, before), openBytes(t, after)
	checkKept(t, was, is)
	if is.Date1904 != was.Date1904 || len(is.Sheets) != len(was.Sheets)+ours {
		t.Errorf("%d sheets of %d", len(is.Sheets), len(was.Sheets))
	}
	for i := range was.Sheets {
		if is.Sheets[i] != was.Sheets[i] {
			t.Errorf("sheet %d is %v, was %v", i, is.Sheets[i], was.Sheets[i])
		}
	}
	main, _ := was.mainPart()
	added := map[string]int{}
	for _, name := range []string{main, relsOf(main), typesPart, "xl/styles.xml"} {
		if !was.Has(name) {
			continue
		}
		a, _ := was.part(name)
		b, _ := is.part(name)
		for item, n := range lostAndAdded(t, name, items(t, a), items(t, b)) {
			added[item] += n
		}
	}
	if added["sheet"] != ours || added["definedName"] != ours || added["calcPr"] > 1 {
		t.Errorf("added: %v", added)
	}
}

// items lists the elements of a part with their attributes in order, and its texts. Left out is what must change: counts
// of styles, the mark to compute on loading.
func items(t *testing.T, data []byte) []string {
	t.Helper()
	data = declaredUTF8(data)
	var out []string
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			item := x.Name.Local
			for _, a := range x.Attr {
				if a.Name.Local != "count" && a.Name.Local != "fullCalcOnLoad" {
					item += " " + a.Name.Space + ":" + a.Name.Local + "=" + a.Value
				}
			}
			out = append(out, item)
		case xml.CharData:
			if s := strings.TrimSpace(string(x)); s != "" {
				out = append(out, s)
			}
		}
	}
}

// lostAndAdded compares the items of a part: all that were there are there in their order but for those of the
// calculation chain; it counts the new ones by name.
func lostAndAdded(t *testing.T, part string, was, is []string) map[string]int {
	t.Helper()
	added := map[string]int{}
	i := 0
	for _, item := range is {
		for i < len(was) && strings.Contains(was[i], "calcChain") {
			i++
		}
		if i < len(was) && item == was[i] {
			i++
			continue
		}
		name, _, _ := strings.Cut(item, " ")
		added[name]++
	}
	for i < len(was) && strings.Contains(was[i], "calcChain") {
		i++
	}
	if i < len(was) {
		t.Errorf("%s has lost or changed %s", part, was[i])
	}
	return added
}

// TestUserNames: names of one sheet follow it where a sheet of ours before it goes, and so do the tabs.
func TestUserNames(t *testing.T) {
	u := partsOf(t, userBook(t))
	note := `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="2"><c r="A2" t="str"><v>` + mark +
		`</v></c></row></sheetData></worksheet>`
	u = append(u, userPart{"xl/worksheets/old.xml", note})
	u.before(t, "xl/_rels/workbook.xml.rels", "</Relationships>", `<Relationship Id="rIdOld" Type="`+typeSheet+`" Target="worksheets/old.xml"/>`)
	u.before(t, typesPart, "</Types>", `<Override PartName="/xl/worksheets/old.xml" `+
		`ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`)
	u.replace(t, "xl/workbook.xml", "<sheets>", `<sheets><sheet name="Old" sheetId="77" r:id="rIdOld"/>`)
	for old := 5; old >= 0; old-- {
		p := u.at("xl/workbook.xml")
		p.text = strings.ReplaceAll(p.text, fmt.Sprintf(`localSheetId="%d"`, old), fmt.Sprintf(`localSheetId="%d"`, old+1))
	}
	u.replace(t, "xl/workbook.xml", `activeTab="1"`, `firstSheet="1" activeTab="2"`)
	before := u.zip(t)
	out, err := putInto(openBytes(t, before), ourSheets(t, "Result of test"))
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	scopes := map[string]string{}
	for _, n := range f.GetDefinedName() {
		scopes[n.Name+" "+n.RefersTo] = n.Scope
	}
	for name, want := range map[string]string{"rate Notes!$B$3": "Notes", "rate Data!$C$2": "Workbook", "_xlnm.Print_Titles Data!$1:$1": "Data",
		"_xlnm.Print_Area Notes!$A$1:$D$60": "Notes", "_xlnm.Print_Titles 'Result of test'!$1:$2": "Result of test", "piececost_total Data!$C$7": "Workbook"} {
		if scopes[name] != want {
			t.Errorf("the name %s belongs to %q, want %q", name, scopes[name], want)
		}
	}
	if got := f.GetSheetName(f.GetActiveSheetIndex()); got != "Notes" {
		t.Errorf("the sheet %s is shown", got)
	}
	if slices.Contains(f.GetSheetList(), "Old") {
		t.Error("the old sheet of ours is still there")
	}
}

// TestPutKeepsOurPlace: a sheet of ours that a user has hidden and moved stays hidden in its place.
func TestPutKeepsOurPlace(t *testing.T) {
	ours := ourSheets(t, "Result of test", "Second")
	plain := excelize.NewFile()
	defer plain.Close()
	if _, err := plain.NewSheet("Notes"); err != nil {
		t.Fatal(err)
	}
	buf, err := plain.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	once, err := putInto(openBytes(t, buf.Bytes()), ours)
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(once))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.MoveSheet("Second", "Notes"); err != nil {
		t.Fatal(err)
	}
	if err := f.SetSheetVisible("Second", false); err != nil {
		t.Fatal(err)
	}
	moved, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	target := openBytes(t, moved.Bytes())
	again, err := putInto(target, ours)
	if err != nil {
		t.Fatal(err)
	}
	p := openBytes(t, again)
	for i := range target.Sheets {
		if p.Sheets[i].Name != target.Sheets[i].Name || p.Sheets[i].Hidden != target.Sheets[i].Hidden {
			t.Errorf("sheet %d is %v, was %v", i, p.Sheets[i], target.Sheets[i])
		}
	}
	if !p.Sheet("Second").Hidden {
		t.Error("it is shown again")
	}
}

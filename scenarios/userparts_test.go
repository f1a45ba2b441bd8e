package scenarios

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"fmt"
	_ "image/png" // the library wants to know a picture's size
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

var smallPicture, _ = base64.StdEncoding.DecodeString("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==")

// userSheets puts an estimator's own sheets behind the input sheets, with what the library can make.
func userSheets(t testing.TB, f *excelize.File) {
	t.Helper()
	ok := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"Offers", "Notes", "Hidden", "Deep"} {
		_, err := f.NewSheet(name)
		ok(err)
	}
	ok(f.SetSheetRow("Offers", "A1", &[]any{"Supplier", "Year", "Price"}))
	for i := range 6 {
		ok(f.SetSheetRow("Offers", fmt.Sprintf("A%d", i+2), &[]any{string(rune('A' + i%3)), 2026 + i/3, 10.5 * float64(i)}))
	}
	series := []excelize.ChartSeries{{Categories: "Offers!$A$2:$A$7", Values: "Offers!$C$2:$C$7"}}
	ok(f.AddChart("Notes", "E2", &excelize.Chart{Type: excelize.Line, Series: series}))
	ok(f.AddPictureFromBytes("Notes", "E20", &excelize.Picture{Extension: ".png", File: smallPicture}))
	ok(f.AddPivotTable(&excelize.PivotTableOptions{DataRange: "Offers!A1:C7", PivotTableRange: "Notes!A40:D50", Rows: []excelize.PivotTableField{
		{Data: "Supplier"}}, Data: []excelize.PivotTableField{{Data: "Price"}}}))
	ok(f.AddTable("Offers", &excelize.Table{Range: "A1:C7", Name: "Prices"}))
	ok(f.AddComment("Parts", excelize.Comment{Cell: "F2", Author: "buyer", Text: "from the drawing"}))
	rule := excelize.NewDataValidation(true)
	rule.SetSqref("B2:B9")
	ok(rule.SetDropList([]string{"2026", "2027"}))
	ok(f.AddDataValidation("Offers", rule))
	red, err := f.NewConditionalStyle(&excelize.Style{Font: &excelize.Font{Color: "9A0511"}})
	ok(err)
	ok(f.SetConditionalFormat("Offers", "C2:C7", []excelize.ConditionalFormatOptions{{Type: "cell", Criteria: ">", Format: &red, Value: "20"}}))
	ok(f.AddSparkline("Notes", &excelize.SparklineOptions{Location: []string{"B2"}, Range: []string{"Offers!C2:C7"}}))
	for _, n := range userNames {
		n.Scope = strings.TrimPrefix(n.Scope, "Workbook")
		ok(f.SetDefinedName(&n))
	}
	ok(f.SetHeaderFooter("Offers", &excelize.HeaderFooterOptions{OddHeader: "&CQuotes", OddFooter: "&RPage &P of &N"}))
	ok(f.SetCellFormula("Notes", "B3", "Parts!F2*2"))
	ok(f.SetSheetVisible("Hidden", false))
	ok(f.SetSheetVisible("Deep", false, true))
	ok(f.SetCustomProps(excelize.CustomProperty{Name: "Quote", Value: "Q-17"}))
	shown, err := f.GetSheetIndex("Offers")
	ok(err)
	f.SetActiveSheet(shown)
	ok(f.AddChartSheet("Picture", &excelize.Chart{Type: excelize.Col, Series: series}))
}

var userNames = []excelize.DefinedName{
	{Name: "rate", RefersTo: "Offers!$C$2", Scope: "Workbook"}, {Name: "rate", RefersTo: "Notes!$B$3", Scope: "Notes"},
	{Name: "_xlnm.Print_Titles", RefersTo: "Offers!$1:$1", Scope: "Offers"}, {Name: "_xlnm.Print_Area", RefersTo: "Notes!$A$1:$D$60", Scope: "Notes"},
}

const relationKind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"

// userPartsByHand adds to the parts of a package what the library can't make: macros, custom XML, threaded comments and
// their persons (MS-XLSX 2.1), an external link, printer settings, a calculation chain; and takes the theme out.
func userPartsByHand(t testing.TB, parts map[string][]byte) {
	t.Helper()
	before := func(name, end, text string) {
		t.Helper()
		at := bytes.LastIndex(parts[name], []byte(end))
		if at < 0 {
			t.Fatalf("%s has no %s", name, end)
		}
		parts[name] = slices.Concat(parts[name][:at], []byte(text), parts[name][at:])
	}
	rel := func(id, kind, target string) string {
		return `<Relationship Id="` + id + `" Type="` + kind + `" Target="` + target + `"/>`
	}
	override := func(name, kind string) string {
		return `<Override PartName="` + name + `" ContentType="` + kind + `"/>`
	}
	const microsoft, rels = "http://schemas.microsoft.com/office/", "xl/_rels/workbook.xml.rels"
	before(rels, "</Relationships>", rel("rIdX1", relationKind+"/externalLink", "externalLinks/externalLink1.xml")+rel("rIdX2",
		microsoft+"2006/relationships/vbaProject", "vbaProject.bin")+
		rel("rIdX3", microsoft+"2017/10/relationships/person", "persons/person.xml")+rel("rIdX4", relationKind+"/calcChain", "calcChain.xml")+rel("rIdX5",
		relationKind+"/customXml", "../customXml/item1.xml"))
	before("xl/workbook.xml", "<definedNames>", `<externalReferences><externalReference r:id="rIdX1"/></externalReferences>`)
	before("xl/workbook.xml", "</definedNames>", `<definedName name="RATE">43</definedName>`) // beside rate, but for case
	before("[Content_Types].xml", "</Types>", `<Default Extension="bin" ContentType="application/vnd.ms-office.vbaProject"/>`+override("/xl/calcChain.xml",
		"application/vnd.openxmlformats-officedocument.spreadsheetml.calcChain+xml")+
		override("/xl/externalLinks/externalLink1.xml", "application/vnd.openxmlformats-officedocument.spreadsheetml.externalLink+xml")+
		override("/xl/threadedComments/threadedComment1.xml", "application/vnd.ms-excel.threadedcomments+xml")+override("/xl/persons/person.xml",
		"application/vnd.ms-excel.person+xml"))
	for name := range parts {
		if strings.HasPrefix(name, "xl/worksheets/_rels/") && bytes.Contains(parts[name], []byte("/comments")) {
			before(name, "</Relationships>", rel("rIdX6", microsoft+"2017/10/relationships/threadedComment", "../threadedComments/threadedComment1.xml")+
				rel("rIdX7", relationKind+"/printerSettings", "../printerSettings/printerSettings1.bin"))
		}
	}
	types := bytes.ReplaceAll(parts["[Content_Types].xml"], []byte("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"),
		[]byte("application/vnd.ms-excel.sheet.macroEnabled.main+xml"))
	parts["[Content_Types].xml"] = bytes.ReplaceAll(types,
		[]byte(override("/xl/theme/theme1.xml", "application/vnd.openxmlformats-officedocument.theme+xml")), nil)
	parts[rels] = bytes.ReplaceAll(parts[rels], []byte("relationships/theme"), []byte("relationships/other"))
	for name, text := range map[string]string{
		"xl/vbaProject.bin": "\xD0\xCF\x11\xE0 macros, any bytes \x00\xFF",
		"xl/externalLinks/externalLink1.xml": `<externalLink ` +
			`xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><externalBook xmlns:r="` + relationKind + `" r:id="rId1"/></externalLink>`,
		"xl/externalLinks/_rels/externalLink1.xml.rels": `<Relationships ` +
			`xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + relationKind +
			`/externalLinkPath" Target="rates.xlsx" TargetMode="External"/></Relationships>`,
		"xl/persons/person.xml":                    `<personList xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"/>`,
		"xl/threadedComments/threadedComment1.xml": `<ThreadedComments xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"/>`,
		"xl/calcChain.xml": `<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><c r="B3" ` +
			`i="2"/></calcChain>`,
		"xl/printerSettings/printerSettings1.bin": "\x00\x01\x02",
		"customXml/item1.xml":                     "<quote number='17'/>",
	} {
		parts[name] = []byte(text)
	}
}

// TestUserWorkbook runs a macro workbook full of an estimator's own things three times: only the parts that list sheets,
// styles and types change, and in them nothing of the user's; later runs add nothing.
func TestUserWorkbook(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plate.xlsm")
	f := plateBook(t, plainWords)
	userSheets(t, f)
	made := path + ".xlsx"
	if err := f.SaveAs(made); err != nil {
		t.Fatal(err)
	}
	f.Close()
	before := unzip(t, made)
	userPartsByHand(t, before)
	rezip(t, path, before)
	was, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	runTo(t, path, path)
	once := unzip(t, path)
	checkUserParts(t, before, once)
	checkUserSheets(t, path)
	is, err := Read(path)
	if err != nil || !reflect.DeepEqual(is, was) {
		t.Errorf("the case reads otherwise after a run (%v)", err)
	}
	runTo(t, path, path)
	second := readFile(t, path)
	if a, b := partNames(once), partNames(unzip(t, path)); !slices.Equal(a, b) {
		t.Errorf("a second run changes the list of parts from %q to %q", a, b)
	}
	checkUserParts(t, before, unzip(t, path))
	runTo(t, path, path)
	if !bytes.Equal(second, readFile(t, path)) {
		t.Error("a third run gives other bytes than the second")
	}
}

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func partNames(parts map[string][]byte) []string {
	var out []string
	for name := range parts {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// splicedParts are the only parts of a user's that a run may change.
var splicedParts = []string{"[Content_Types].xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml"}

func checkUserParts(t *testing.T, before, after map[string][]byte) {
	t.Helper()
	for name, data := range before {
		switch now, there := after[name]; {
		case name == "xl/calcChain.xml":
			if there {
				t.Error("the calculation chain, which lists formulas that are gone, is still there")
			}
		case slices.Contains(splicedParts, name):
			checkElements(t, name, elementsOf(t, data), elementsOf(t, now))
		case !bytes.Equal(now, data):
			t.Errorf("%s has changed from %d to %d bytes", name, len(data), len(now))
		}
	}
}

// checkElements: all that were there are there in their order, but for those of the calculation chain.
func checkElements(t *testing.T, part string, was, is []string) {
	t.Helper()
	was = slices.DeleteFunc(was, func(e string) bool { return strings.Contains(e, "calcChain") })
	for _, e := range is {
		if len(was) > 0 && e == was[0] {
			was = was[1:]
		}
	}
	if len(was) > 0 {
		t.Errorf("%s has lost or changed %s", part, was[0])
	}
}

// elementsOf lists the elements of a part with their attributes, and its texts; without counts and the mark to compute on
// loading, which must change.
func elementsOf(t *testing.T, data []byte) []string {
	t.Helper()
	var out []string
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			x.Attr = slices.DeleteFunc(x.Attr, func(a xml.Attr) bool { return a.Name.Local == "count" || a.Name.Local == "fullCalcOnLoad" })
			out = append(out, fmt.Sprint(x.Name.Local, x.Attr))
		case xml.CharData:
			out = append(out, string(x))
		}
	}
}

// checkUserSheets: names of one sheet belong to it still, the same sheet is shown, hidden ones are hidden.
func checkUserSheets(t *testing.T, path string) {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	names := f.GetDefinedName()
	for _, n := range userNames {
		if !slices.Contains(names, n) {
			t.Errorf("the name %s of %s is not %s: %v", n.Name, n.Scope, n.RefersTo, names)
		}
	}
	if got := f.GetSheetName(f.GetActiveSheetIndex()); got != "Offers" {
		t.Errorf("the sheet %s is shown", got)
	}
	for _, name := range []string{"Hidden", "Deep"} {
		if visible, err := f.GetSheetVisible(name); err != nil || visible {
			t.Errorf("the sheet %s is shown (%v)", name, err)
		}
	}
	for _, name := range []string{"Picture", "Summary", "Calculation Today"} {
		if !slices.Contains(f.GetSheetList(), name) {
			t.Errorf("the sheet %s is not there", name)
		}
	}
}

package ooxml

import (
	"bytes"
	"strings"
	"testing"
)

// FuzzPut takes any bytes for the user's package: our sheets are put into it or it is refused in one line; nothing of
// the user's is lost.
func FuzzPut(f *testing.F) {
	f.Add(packageOf(f, plainSheet, typesPart, wholeTypes))
	f.Add(stored(f, plainSheet))
	for _, seed := range bookSeeds {
		f.Add(seed.packed(f))
	}
	ours := ourSheets(f, "Result of test", "Second")
	f.Fuzz(func(t *testing.T, data []byte) {
		target, err := Open(bytes.NewReader(data), int64(len(data)))
		if err == nil {
			checkPutAny(t, target, ours)
		}
	})
}

// FuzzPutBook takes any texts for the parts that are changed: workbook, its relations, styles, content types.
func FuzzPutBook(f *testing.F) {
	for _, s := range bookSeeds {
		f.Add(s.workbook, s.relations, s.styles, s.types)
	}
	ours := ourSheets(f, "Result of test", "Second")
	f.Fuzz(func(t *testing.T, workbook, relations, styles, types string) {
		data := bookSeed{workbook: workbook, relations: relations, styles: styles, types: types}.packed(t)
		target, err := Open(bytes.NewReader(data), int64(len(data)))
		if err == nil {
			checkPutAny(t, target, ours)
		}
	})
}

const wholeTypes = `<Types><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override ` +
	`PartName="/xl/workbook.xml" ContentType="a"/></Types>`

// A bookSeed is a workbook by the parts that are changed.
type bookSeed struct{ workbook, relations, styles, types string }

func (s bookSeed) packed(t testing.TB) []byte {
	return packageOf(t, plainSheet, "xl/workbook.xml", s.workbook, "xl/_rels/workbook.xml.rels", s.relations, "xl/styles.xml", s.styles, typesPart, s.types,
		"xl/worksheets/sheet2.xml", `<worksheet><row r="2"><c r="A2" t="str"><v>`+mark+`</v></c></row></worksheet>`, "xl/calcChain.xml", "<calcChain/>")
}

const seedRelations = `<Relationships><Relationship Id="rId1" Type="` + officeRel +
	`worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="` + officeRel + `worksheet" Target="/xl/worksheets/sheet2.xml"/>` +
	`<Relationship Id="rId3" Type="` + officeRel + `styles" Target="styles.xml"/><Relationship Id="rId4" Type="` + officeRel +
	`calcChain" Target="calcChain.xml"/></Relationships>`

var bookSeeds = []bookSeed{
	{`<workbook xmlns:r="` + relationsNS + `"><bookViews><workbookView firstSheet="1" activeTab="1"/></bookViews><sheets><sheet name="Plan" ` +
		`sheetId="1" r:id="rId1"/><sheet name="Result of test" sheetId="7" state="hidden" r:id="rId2"/></sheets>` +
		`<definedNames><definedName name="rate">42</definedName><definedName name="_xlnm.Print_Titles" ` +
		`localSheetId="1">x</definedName></definedNames><calcPr calcMode="manual"/></workbook>`,
		seedRelations, `<styleSheet><numFmts count="1"><numFmt numFmtId='164' formatCode='0.0'/></numFmts><fonts/><fills count="0"></fills><cellXfs ` +
			`count="1"><xf numFmtId="164"/></cellXfs></styleSheet>`, wholeTypes},
	{`<workbook><sheets><sheet name="Old of ours" sheetId="65534" r:id="rId2" xmlns:r="` + relationsNS +
		`"/><!-- a note --><sheet name="Plan" sheetId="1" r:id="rId1"/></sheets><definedNames><definedName name="a" ` +
		`localSheetId="0">1</definedName></definedNames></workbook>`,
		seedRelations, `<x:styleSheet xmlns:x="m"><x:cellXfs><x:xf/></x:cellXfs></x:styleSheet>`, `<Types/>`},
	{`<x:workbook xmlns:x="m" xmlns:q="` + relationsNS + `"><x:sheets><x:sheet name="Plan" q:id="rId1"/></x:sheets><x:definedNames/></x:workbook>`,
		`<Relationships><Relationship Id="rId1" Type="worksheet" Target="worksheets\sheet1.xml"/></Relationships>`, "", `<y:Types xmlns:y="t"></y:Types>`},
}

// checkPutAny puts sheets into a package that may hold anything, twice.
func checkPutAny(t *testing.T, target, ours *Package) {
	t.Helper()
	once, err := putInto(target, ours)
	checkLine(t, "put", err)
	if err != nil {
		return
	}
	after, err := Open(bytes.NewReader(once), int64(len(once)))
	if err != nil {
		t.Fatalf("what was put together can't be opened: %v", err)
	}
	checkKept(t, target, after)
	for _, name := range []string{"Result of test", "Second"} {
		g, err := after.Read(after.Sheet(name))
		if err != nil || len(g.Cells) != 4 || g.Cells[3].Formula != "A3*2" {
			t.Fatalf("our sheet reads %+v, %v", g, err)
		}
	}
	twice, err := putInto(after, ours)
	if err != nil {
		t.Fatalf("a second run: %v", err)
	}
	if !bytes.Equal(once, twice) {
		t.Errorf("a second run differs: %d bytes, then %d", len(once), len(twice))
	}
}

// checkKept: every part of before is there as it was, packed as it was, but for those that may change and those of
// sheets that are replaced; the user's sheets are there in their order.
func checkKept(t *testing.T, before, after *Package) {
	t.Helper()
	own := ownByMark(before)
	gone := map[string]bool{}
	var kept []Sheet
	for i := range before.Sheets {
		if s := &before.Sheets[i]; own(s) {
			if rels, err := before.relations(s.part); err != nil || len(rels) > 0 {
				return // parts may go with it
			}
			gone[strings.ToLower(s.part)] = true
		} else {
			kept = append(kept, *s)
		}
	}
	main, _ := before.mainPart()
	rels, _ := before.relations(main)
	for _, r := range rels {
		if r.kind == "calcChain" || r.kind == "styles" {
			gone[strings.ToLower(r.target)] = true
		}
	}
	for _, name := range []string{main, relsOf(main), typesPart} {
		gone[strings.ToLower(name)] = true
	}
	for _, f := range before.order {
		key := partKey(f.Name)
		now := after.files[key]
		if gone[key] || strings.HasSuffix(key, ".rels") && (now == nil || gone[strings.TrimSuffix(strings.Replace(key, "_rels/", "", 1), ".rels")]) {
			continue
		}
		if now == nil || now.CRC32 != f.CRC32 || now.CompressedSize64 != f.CompressedSize64 || now.Name != f.Name {
			t.Fatalf("the part %q is gone or has changed", f.Name)
		}
	}
	i := 0
	for _, s := range after.Sheets {
		if i < len(kept) && s.Name == kept[i].Name && s.part == kept[i].part && s.Hidden == kept[i].Hidden && s.Kind == kept[i].Kind {
			i++
		}
	}
	if i < len(kept) {
		t.Fatalf("the sheet %q is gone, or has changed", kept[i].Name)
	}
}

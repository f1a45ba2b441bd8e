package lint

import "testing"

// cells makes a sheetData element of one row a line: cells as they stand in a part.
func cells(rows string) string { return "<sheetData>" + rows + "</sheetData>" }

// TestErrorsAreToldWhereTheyBegin: B2 divides by nothing, B3 and the sum pass it on, C1 is typed, D1 is meant, E1 and E2 read
// each other.
func TestErrorsAreToldWhereTheyBegin(t *testing.T) {
	data := written(t, []string{cells(`
		<row r="1"><c r="A1"><v>1</v></c><c r="C1" t="e"><v>#N/A</v></c><c r="D1" t="e"><f>NA()</f><v>#N/A</v></c>
			<c r="E1" t="e"><f>E2</f><v>#NUM!</v></c></row>
		<row r="2"><c r="B2" t="e"><f>A1/A9</f><v>#DIV/0!</v></c><c r="C2" t="e"><f>VLOOKUP(A1,G1:H9,2,0)</f><v>#N/A</v></c>
			<c r="E2" t="e"><f>E1+1</f><v>#NUM!</v></c></row>
		<row r="3"><c r="B3" t="e"><f>B2*A1</f><v>#DIV/0!</v></c><c r="C3" t="e"><f>D1</f><v>#N/A</v></c><c r="D3" t="e"><f>#REF!+A1</f><v>#REF!</v></c></row>
		<row r="4"><c r="B4" t="e"><f>SUM(B1:B3)</f><v>#DIV/0!</v></c><c r="D4" t="e"><f>Rate*A1</f><v>#REF!</v></c>
			<c r="E4" t="e"><f>D3</f><v>#REF!</v></c><c r="F4" t="e"><f>MATCH(1,B1:B4,0)</f><v>#N/A</v></c></row>`)},
		map[string]string{"names": `<definedNames><definedName name="Rate">Base</definedName><definedName name="Base">#REF!</definedName></definedNames>`})
	expect(t, data, `
		S1!C1 error-value: the cell shows #N/A, and 1 more down to C2
		S1!E1 error-value: the cell shows #NUM!
		S1!B2 error-value: the cell shows #DIV/0!
		S1!D3 broken-reference: #REF! in the formula =#REF!+A1
		S1!D4 broken-reference: the name Rate in the formula =Rate*A1 leads to #REF!
		S1!F4 error-value: the cell shows #N/A`)
}

// TestExternalLinks: through a name, a quoted sheet, a function and a link that nothing uses; [0] and Table1[1] are no
// links.
func TestExternalLinks(t *testing.T) {
	link := func(target string) string {
		return `<Relationships><Relationship Id="rId1" Type="x/externalLinkPath" Target="` + target + `" TargetMode="External"/></Relationships>`
	}
	data := written(t, []string{cells(`
		<row r="1"><c r="A1"><f>[2]Rates!$B$2</f><v>1</v></c><c r="B1"><f>'[2]Wage rates'!B2*A1</f><v>1</v></c>
			<c r="C1"><f>'[2]Jan:Mar'!B2</f><v>1</v></c></row>
		<row r="3"><c r="A3"><f>Steel*A1</f><v>1</v></c><c r="B3"><f>[0]!Own+A1</f><v>1</v></c><c r="C3"><f>SUM(Table1[1])</f><v>1</v></c>
			<c r="D3" t="str"><f>"[2]Rates!A1"</f><v>x</v></c></row>`)},
		map[string]string{
			"links": `<externalReferences><externalReference r:id="rId8"/><externalReference r:id="rId7"/><externalReference ` +
				`r:id="rId9"/></externalReferences>`,
			"names": `<definedNames><definedName name="Steel">[1]Metals!$C$4</definedName><definedName ` +
				`name="Own">S1!$A$1</definedName></definedNames>`,
			"relations": `<Relationship Id="rId7" Type="x/externalLink" Target="externalLinks/link1.xml"/><Relationship Id="rId8" ` +
				`Type="x/externalLink" Target="externalLinks/link2.xml"/><Relationship Id="rId9" Type="x/externalLink" Target="externalLinks/link3.xml"/>`,
			"xl/externalLinks/link1.xml": "<externalLink/>", "xl/externalLinks/link2.xml": "<externalLink/>", "xl/externalLinks/link3.xml": "<externalLink/>",
			"xl/externalLinks/_rels/link1.xml.rels": link("file:///C:\\costs\\wage%20rates.xlsx"),
			"xl/externalLinks/_rels/link2.xml.rels": link("metals.xlsx"),
			"xl/externalLinks/_rels/link3.xml.rels": link("old.xlsx"),
		})
	expect(t, data, `
		external-link: the workbook keeps a link to old.xlsx that no formula of a cell uses
		S1!A1 external-link: the formula =[2]Rates!$B$2 reads wage rates.xlsx, and 2 more across to C1
		S1!A3 external-link: the formula =Steel*A1 reads metals.xlsx`)
}

// TestSharedAndArrayFormulas: members of a shared formula are copies; results of an array formula and of a data table are not
// typed, though their cells hold no formula.
func TestSharedAndArrayFormulas(t *testing.T) {
	data := written(t, []string{cells(`
		<row r="1"><c r="A1"><v>1</v></c><c r="B1"><f t="shared" si="0" ref="B1:B6">A1*$D$1</f><v>1</v></c><c r="D1"><v>2</v></c></row>
		<row r="2"><c r="A2"><v>2</v></c><c r="B2"><f t="shared" si="0"/><v>1</v></c></row>
		<row r="3"><c r="A3"><v>4</v></c><c r="B3"><f t="shared" si="0"/><v>1</v></c></row>
		<row r="4"><c r="A4"><v>7</v></c><c r="B4"><v>1</v></c></row>
		<row r="5"><c r="A5"><v>5</v></c><c r="B5"><f t="shared" si="0"/><v>1</v></c></row>
		<row r="6"><c r="A6"><v>6</v></c><c r="B6"><f t="shared" si="0"/><v>1</v></c></row>`),
		cells(`
		<row r="1"><c r="A1"><f t="array" ref="A1:A6">TRANSPOSE(C9:H9)</f><v>1</v></c></row>
		<row r="2"><c r="A2"><v>3</v></c></row><row r="3"><c r="A3"><v>3</v></c></row><row r="4"><c r="A4"><v>2</v></c></row>
		<row r="5"><c r="A5"><v>5</v></c></row><row r="6"><c r="A6"><v>8</v></c></row><row r="7"><c r="A7"><f>A1+A2+A3+A4+A5</f><v>9</v></c></row>
		<row r="8"><c r="A8"><f t="dataTable" ref="A8:A11" dt2D="0" r1="F1"/><v>1</v></c><c r="F8"><v>4</v></c></row><row r="9">
			<c r="A9"><v>2</v></c></row>`)}, nil)
	expect(t, data, `
		S1!A4 unused-input: no formula reads the typed number 7, though they read its neighbours
		S1!B4 pattern-break: the typed number 1 in a column of formulas such as =A3*$D$1`)
}

// TestOtherReaders: the last number of each list is read by no formula, but by a chart, a conditional format, a drop-down, a
// pivot table, a data table or a name.
func TestOtherReaders(t *testing.T) {
	column := `<row r="1"><c r="A1"><v>3</v></c></row><row r="2"><c r="A2"><v>5</v></c></row><row r="3"><c r="A3"><v>9</v></c></row><row r="4"><c ` +
		`r="A4"><v>4</v></c><c r="F4"><f>A1+A2*A3</f></c></row>`
	plain := "S1!A4 unused-input: no formula reads the typed number 4, though they read its neighbours"
	name := `<definedNames><definedName name="Wage">S1!$A$4</definedName></definedNames>`
	for _, c := range []struct {
		name, sheet string
		parts       map[string]string
		want        string
	}{
		{"nothing", cells(column), nil, plain},
		{"conditional format", cells(column) + `<conditionalFormatting sqref="C1"><cfRule ` +
			`type="expression"><formula>$A$4&gt;1</formula></cfRule></conditionalFormatting>`, nil, ""},
		{"relative conditional format", cells(column) + `<conditionalFormatting sqref="A1:A9"><cfRule ` +
			`type="expression"><formula>A1&gt;1</formula></cfRule></conditionalFormatting>`, nil, ""},
		{"another workbook's cell of the same name", cells(column + `<row r="9"><c r="C9"><f>[1]S1!A4</f></c></row>`), nil,
			plain + "\nS1!C9 external-link: the formula =[1]S1!A4 reads 1"},
		{"sheets from one to another", cells(column + `<row r="9"><c r="C9"><f>SUM(S2:S1!A4)</f></c></row>`), nil, ""},
		{"drop-down", cells(column) + `<dataValidations><dataValidation type="list" ` +
			`sqref="C1:C9"><formula1>$A$1:$A$4</formula1></dataValidation></dataValidations>`, nil, ""},
		{"drop-down elsewhere", cells(column) + `<dataValidations><dataValidation type="list" ` +
			`sqref="C1:C9"><formula1>$B$1:$B$4</formula1></dataValidation></dataValidations>`, nil, plain},
		{"format of an extension", cells(column) + `<extLst><ext><x14:cfRule><xm:f>$A$4</xm:f></x14:cfRule></ext></extLst>`, nil, ""},
		{"data table", cells(column + `<row r="9"><c r="C9"><f t="dataTable" ref="C9:C12" r1="A4"/><v>1</v></c></row>`), nil, ""},
		{"a name that is used", cells(column + `<row r="9"><c r="C9"><f>wage*F4</f></c></row>`), map[string]string{"names": name}, ""},
		{"a name that moves with its cell", cells(column + `<row r="9"><c r="C9"><f>Left*F4</f></c></row>`),
			map[string]string{"names": `<definedNames><definedName name="Left">S1!B1</definedName></definedNames>`}, ""},
		{"a name that is not used", cells(column), map[string]string{"names": name}, plain},
		{"chart", cells(column), map[string]string{
			"xl/worksheets/_rels/sheet1.xml.rels": `<Relationships><Relationship Id="rId1" Type="x/drawing" Target="../drawings/d.xml"/></Relationships>`,
			"xl/drawings/d.xml":                   `<wsDr/>`,
			"xl/drawings/_rels/d.xml.rels":        `<Relationships><Relationship Id="rId1" Type="x/chart" Target="/xl/charts/c.xml"/></Relationships>`,
			"xl/charts/c.xml":                     `<c:chart><c:val><c:numRef><c:f>S1!$A$1:$A$4</c:f></c:numRef></c:val></c:chart>`}, ""},
		{"pivot table", cells(column), map[string]string{
			"relations":      `<Relationship Id="rId9" Type="x/pivotCacheDefinition" Target="pivot/p.xml"/>`,
			"xl/pivot/p.xml": `<pivotCacheDefinition><cacheSource><worksheetSource ref="A1:B9" sheet="S1"/></cacheSource></pivotCacheDefinition>`}, ""},
		{"table", cells(column + `<row r="9"><c r="C9"><f>SUM(Wages[Rate])</f></c></row>`), map[string]string{
			"xl/worksheets/_rels/sheet1.xml.rels": `<Relationships><Relationship Id="rId1" Type="x/table" Target="../tables/t.xml"/></Relationships>`,
			"xl/tables/t.xml":                     `<table ref="A1:B9" name="Wages" displayName="Wages"/>`}, ""},
		{"INDIRECT could read anything", cells(column + `<row r="9"><c r="C9"><f>INDIRECT(F9)</f></c></row>`), nil,
			"S1!C9 volatile-function: INDIRECT in the formula =INDIRECT(F9)"},
		{"so could a computed range", cells(column + `<row r="9"><c r="C9"><f>SUM(INDEX(F1:F9,2):INDEX(F1:F9,C1))</f></c></row>`), nil, ""},
		{"and a macro", cells(column), map[string]string{"relations": `<Relationship Id="rId9" Type="x/vbaProject" Target="vba.bin"/>`}, ""},
		{"a result sheet", cells(column), nil, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			sheets := []string{c.sheet}
			if c.name == "a result sheet" {
				sheets = append(sheets, cells(`<row r="2"><c r="A2" t="str"><v>`+ownNote+` Made now.</v></c></row><row r="3"><c `+
					`r="A3"><f>S1!A4*1.7</f></c></row>`))
			}
			if c.name == "sheets from one to another" {
				sheets = append(sheets, cells(""))
			}
			expect(t, written(t, sheets, c.parts), c.want)
		})
	}
}

// TestResultSheetsAreLeftOut: nothing is told of a sheet that a run wrote, and what it alone reads has no neighbours that
// formulas read.
func TestResultSheetsAreLeftOut(t *testing.T) {
	inputs := cells(`<row r="1"><c r="A1"><v>3</v></c></row><row r="2"><c r="A2"><v>5</v></c></row><row r="3"><c r="A3"><v>9</v></c></row><row ` +
		`r="4"><c r="A4"><v>4</v></c></row>`)
	result := func(note string) string {
		return `<cols><col min="1" max="1" hidden="1"/></cols>` + cells(`<row r="2"><c r="A2" t="str"><v>`+note+`</v></c></row>
			<row r="3" hidden="1"><c r="A3"><f>S1!A1*1.7+S1!A2+S1!A3+[1]X!A1</f></c></row><row r="4"><c r="A4" t="e"><f>NOW()</f><v>#NUM!</v></c>
				<c r="B4" t="str"><v>1 mm</v></c></row>
			<row r="5"><c r="B5" t="str"><v>1 in</v></c></row>`)
	}
	expect(t, written(t, []string{inputs, result(ownNote + " Made now.")}, nil), "")
	expect(t, written(t, []string{inputs, result("Written by hand.")}, nil), `
		S1!A4 unused-input: no formula reads the typed number 4, though they read its neighbours
		S2!A2 hidden-columns: the column A is hidden and holds 3 filled cells
		S2!A3 external-link: the formula =S1!A1*1.7+S1!A2+S1!A3+[1]X!A1 reads 1
		S2!A3 constant-in-formula: the constant 1.7 inside the formula =S1!A1*1.7+S1!A2+S1!A3+[1]X!A1
		S2!A3 hidden-rows: the row 3 is hidden and holds 1 filled cell
		S2!A4 error-value: the cell shows #NUM!
		S2!A4 volatile-function: NOW in the formula =NOW()
		S2!B5 mixed-units: "1 in" in a column in mm`)
}

// TestNamesOfASheet: a sheet's own name goes before the workbook's, and another sheet's is not seen.
func TestNamesOfASheet(t *testing.T) {
	sheet := cells(`<row r="1"><c r="A1"><f>Rate+1</f></c></row>`)
	data := written(t, []string{sheet, sheet, cells(`<row r="1"><c r="A1"><f>S2!Rate+1</f></c></row>`)}, map[string]string{
		"names": `<definedNames><definedName name="Rate">S1!$B$1</definedName><definedName name="rate" localSheetId="1">#REF!</definedName></definedNames>`})
	expect(t, data, `
		S2!A1 broken-reference: the name Rate in the formula =Rate+1 leads to #REF!
		S3!A1 broken-reference: the name Rate in the formula =S2!Rate+1 leads to #REF!`)
}

// TestHiddenBySize: no height and no width hide as well; hidden columns without content are nobody's matter.
func TestHiddenBySize(t *testing.T) {
	expect(t, written(t, []string{`<cols><col min="2" max="3" width="0"/><col min="9" max="9" hidden="1"/></cols>` +
		cells(`<row r="1"><c r="B1"><v>1</v></c><c r="C1"><v>1</v></c></row><row r="2" ht="0"><c r="A2"><v>1</v></c></row>`)}, nil), `
		S1!B1 hidden-columns: the columns B to C are hidden and hold 2 filled cells
		S1!A2 hidden-rows: the row 2 is hidden and holds 1 filled cell`)
}

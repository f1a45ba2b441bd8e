package starter

import (
	"encoding/xml"
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// The properties of a workbook made here. All of them are optional (ECMA-376 part 2, 11.1). There is no time of creation,
// for the same input gives the same bytes, and the library's, of 2006, is false. The library's lastModifiedBy is empty and
// without the prefix that some programs know it by.
const (
	coreProperties = xml.Header + `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" ` +
		`xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>Scenario workbook</dc:title><dc:creator>piececost</dc:creator><dc:identifier>` +
		starterMark + `</dc:identifier></cp:coreProperties>`

	programProperties = xml.Header + `<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties">` +
		`<Application>piececost</Application></Properties>`
)

// setProperties puts them in place of the library's.
func setProperties(f *excelize.File) {
	f.Pkg.Store("docProps/core.xml", []byte(coreProperties))
	f.Pkg.Store("docProps/app.xml", []byte(programProperties))
}

// starterMark is the document property by which a workbook made here is known. Its number is the form of the workbook: it is
// raised when sheets or headings change their names.
const (
	markWords   = "piececost starter workbook "
	starterForm = "2"
	starterMark = markWords + starterForm
)

// Is tells whether a workbook was made by `piececost new`.
func Is(pack *ooxml.Package) bool { return pack.Identifier() == starterMark }

// OtherForm is an error where a workbook was made by the command new of a program whose sheets or headings have other names.
// It follows the name of the file. Another program that saved the workbook may have dropped the mark: then each heading that
// is not known is said by itself.
func OtherForm(pack *ooxml.Package) error {
	form, ours := strings.CutPrefix(pack.Identifier(), markWords)
	if !ours || form == starterForm {
		return nil
	}
	return fmt.Errorf("was made by another version of piececost: its sheets have form %s, with other names of headings, and this program reads form %s; "+
		"make a workbook with `piececost new` and copy the values, column by column", table.Shortened(form), starterForm)
}

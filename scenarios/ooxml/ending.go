package ooxml

// endings are the ends of the names by which programs know the kinds of package, by the content type of the workbook part
// (ECMA-376 part 1, 12.3.23, for those without macros; for those with macros as programs write them, from memory).
var endings = map[string]string{
	"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml":    ".xlsx",
	"application/vnd.openxmlformats-officedocument.spreadsheetml.template.main+xml": ".xltx",
	"application/vnd.ms-excel.sheet.macroEnabled.main+xml":                          ".xlsm",
	"application/vnd.ms-excel.template.macroEnabled.main+xml":                       ".xltm",
	"application/vnd.ms-excel.addin.macroEnabled.main+xml":                          ".xlam",
}

// Ending is the end of a file's name that fits the package: .xlsm where it may hold macros; .xlsx where the type of its
// workbook part is not known.
func (p *Package) Ending() (string, error) {
	main, err := p.mainPart()
	if err != nil {
		return "", err
	}
	types, err := p.contentTypes()
	if err != nil {
		return "", err
	}
	if end := endings[types(main)]; end != "" {
		return end, nil
	}
	return ".xlsx", nil
}

package lint

import (
	"path"
	"strconv"
	"strings"

	"piececost/costmodel/units"
	"piececost/scenarios/sheetformula"
)

// workbookPart reads what the workbook keeps beside its sheets: names, links, number formats, pivot tables. What can't be
// followed makes the book blind, no more: the sheets are read already.
func (b *book) workbookPart() {
	root, err := relations(b.pack, "")
	b.note(err)
	for _, r := range root {
		if r.kind == "officeDocument" {
			b.workbookOf(r.target)
		}
	}
}

func (b *book) note(err error) { b.blind = b.blind || err != nil }

func (b *book) workbookOf(part string) {
	rels, err := relations(b.pack, part)
	b.note(err)
	byID := map[string]string{}
	for _, r := range rels {
		byID[r.id] = r.target
		switch r.kind {
		case "styles":
			b.styles()
		case "pivotCacheDefinition":
			b.pivot(r.target)
		case "vbaProject":
			b.blind = true // macros read cells without a formula
		}
	}
	b.note(elements(b.pack, part, func(e *element) error {
		switch e.name {
		case "externalReference":
			b.links = append(b.links, b.linkedFile(byID[e.attr("id")]))
		case "definedName":
			return b.definedName(e)
		}
		return nil
	}))
}

// definedName keeps a name. A name with relative references means another cell wherever it stands.
func (b *book) definedName(e *element) error {
	key := strings.ToLower(e.attr("name"))
	if local := e.attr("localSheetId"); local != "" {
		key = local + "|" + key
	}
	formula, err := e.text()
	f := factsOf(formula, 1, 1)
	for _, r := range f.reads {
		f.blind = f.blind || !r.Fixed.All()
	}
	b.names[key] = f
	return err
}

// linkedFile names the file of an external link.
func (b *book) linkedFile(part string) string {
	rels, err := relations(b.pack, part)
	if part == "" || err != nil {
		return "a file that is not named"
	}
	for _, r := range rels {
		if r.external {
			return path.Base(strings.ReplaceAll(r.target, "%20", " "))
		}
	}
	return "a data source"
}

// A formatUnit is the unit that a number format shows, if it shows one.
type formatUnit struct {
	unit  units.Unit
	shown bool
}

// styles reads the unit that the number format of each cell style shows; the built-in ones show none.
func (b *book) styles() {
	b.formats = b.formats[:0]
	for i := range b.pack.CellStyles() {
		u, ok := unitOfFormat(b.pack.Format(i))
		b.formats = append(b.formats, formatUnit{u, ok})
	}
}

func (b *book) pivot(part string) {
	b.note(elements(b.pack, part, func(e *element) error {
		if e.name != "worksheetSource" {
			return nil
		}
		if i := b.sheetIndex(e.attr("sheet")); i >= 0 {
			if a, ok := sheetformula.ParseArea(e.attr("ref")); ok {
				b.other = append(b.other, span{i, a})
				return nil
			}
		}
		b.blind = true // a table or a name
		return nil
	}))
}

// sheetParts follows the tables and charts of a sheet, and its rules.
func (b *book) sheetParts(i int) {
	for _, f := range b.sheets[i].rules {
		b.other = append(b.other, b.reads(i, f)...)
	}
	rels, err := relations(b.pack, b.pack.PartOf(&b.pack.Sheets[i]))
	b.note(err)
	for _, r := range rels {
		switch r.kind {
		case "table":
			b.table(i, r.target)
		case "drawing":
			b.charts(i, r.target)
		}
	}
}

func (b *book) table(sheet int, part string) {
	b.note(elements(b.pack, part, func(e *element) error {
		if a, ok := sheetformula.ParseArea(e.attr("ref")); ok && e.name == "table" {
			for _, name := range []string{e.attr("name"), e.attr("displayName")} {
				b.tables[strings.ToLower(name)] = span{sheet, a}
			}
		}
		return nil
	}))
}

func (b *book) charts(sheet int, drawing string) {
	rels, err := relations(b.pack, drawing)
	b.note(err)
	for _, r := range rels {
		if !strings.HasPrefix(r.kind, "chart") || r.external {
			continue
		}
		b.note(elements(b.pack, r.target, func(e *element) error {
			if e.name != "f" {
				return nil
			}
			formula, err := e.text()
			b.other = append(b.other, b.reads(sheet, factsOf(formula, 1, 1))...)
			return err
		}))
	}
}

// link names the file that [1] stands for.
func (b *book) link(number string) string {
	if n, err := strconv.Atoi(number); err == nil && n >= 1 && n <= len(b.links) {
		return b.links[n-1]
	}
	return number
}

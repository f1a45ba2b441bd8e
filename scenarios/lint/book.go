package lint

import (
	"strconv"
	"strings"

	"piececost/scenarios/ooxml"
	"piececost/scenarios/sheetformula"
)

// A book is a workbook as the checks see it.
type book struct {
	pack    *ooxml.Package
	sheets  []*sheet          // in the workbook's order
	names   map[string]*facts // defined names in lower case; of one sheet: "2|rate"
	tables  map[string]span   // by name in lower case
	formats []formatUnit      // by cell style
	links   []string          // files that [1], [2], ... stand for
	other   []span            // what charts, rules, drop-downs and pivot tables read
	forms   map[string]int32  // numbers of the relative forms, from 1
	blind   bool              // something may read cells without a trace: macros, parts that can't be followed
}

// maxStack is how many sheets of Jan:Dec!A1 are followed.
const maxStack = 300

// A span is an area of a sheet, by its index.
type span struct {
	sheet int
	sheetformula.Area
}

// openBook reads everything of a package that the checks need.
func openBook(p *ooxml.Package) (*book, error) {
	b := &book{pack: p, names: map[string]*facts{}, tables: map[string]span{}, forms: map[string]int32{}}
	for i := range p.Sheets {
		s, err := b.readSheet(i)
		if err != nil {
			return nil, err
		}
		b.sheets = append(b.sheets, s)
	}
	b.workbookPart()
	for i := range b.sheets {
		b.sheetParts(i)
	}
	return b, nil
}

// sheetIndex finds a sheet by name as formulas do, ignoring case; -1 where there is none.
func (b *book) sheetIndex(name string) int {
	found := -1
	for i, s := range b.sheets {
		if s.name == name {
			return i
		}
		if found < 0 && strings.EqualFold(s.name, name) {
			found = i
		}
	}
	return found
}

// spansOf turns references of a formula on a sheet into areas of this workbook; what leads elsewhere is left out.
func (b *book) spansOf(sheet int, refs []sheetformula.Ref) []span {
	var out []span
	for _, r := range refs {
		if r.Book != "" {
			continue
		}
		from := sheet
		if r.Sheet != "" {
			from = b.sheetIndex(r.Sheet)
		}
		to := from
		if r.Last != "" {
			to = b.sheetIndex(r.Last)
		}
		if from > to {
			from, to = to, from
		}
		for i := from; from >= 0 && i <= min(to, from+maxStack); i++ {
			out = append(out, span{i, r.Area})
		}
	}
	return out
}

// through calls visit for the facts of a formula on a sheet and for those of every defined name it leads to.
func (b *book) through(sheet int, f *facts, visit func(*facts)) {
	visit(f)
	if len(f.names) == 0 {
		return
	}
	seen := map[*facts]bool{f: true}
	for todo := []*facts{f}; len(todo) > 0; todo = todo[1:] {
		for _, n := range todo[0].names {
			d := b.named(sheet, n)
			if d == nil || seen[d] {
				continue
			}
			seen[d] = true
			visit(d)
			todo = append(todo, d)
		}
	}
}

// named finds a defined name: the sheet's own before the workbook's. Names are nil where there are none, such as the
// parameters of LET.
func (b *book) named(sheet int, n sheetformula.Token) *facts {
	key := strings.ToLower(n.Text)
	if n.Ref.Sheet != "" {
		sheet = b.sheetIndex(n.Ref.Sheet)
	}
	if f := b.names[strconv.Itoa(sheet)+"|"+key]; f != nil {
		return f
	}
	return b.names[key]
}

// reads returns the areas that a formula on a sheet reads, through names and tables too.
func (b *book) reads(sheet int, f *facts) []span {
	var out []span
	b.through(sheet, f, func(f *facts) {
		out = append(out, b.spansOf(sheet, f.reads)...)
		for _, t := range f.tables {
			if s, ok := b.tables[t]; ok {
				out = append(out, s)
			}
		}
	})
	return out
}

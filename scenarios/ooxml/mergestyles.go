package ooxml

import (
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// styles appends the fonts, fills, borders, formats and cell styles of our sheets to the target's, taking equal ones that
// are there, and notes which number each of our cell styles gets.
func (m *merge) styles() error {
	ours, err := m.stylesOf(m.ours)
	if err != nil {
		return err
	}
	theirs, err := m.stylesOf(m.target)
	if err != nil {
		return err
	}
	if ours == nil {
		return nil
	}
	if theirs == nil || theirs.root == nil { // a workbook without styles: ours become its own
		for i := range ours.cellXfs.items {
			m.styleMap = append(m.styleMap, i)
		}
		if theirs != nil {
			m.changed[partKey(theirs.name)] = ours.data
			return nil
		}
		m.added = append(m.added, addedPart{m.stylesName(), stylesType, bytesOf(ours.data)})
		return nil
	}
	fonts, fills, borders := theirs.fonts.take(ours.fonts), theirs.fills.take(ours.fills), theirs.borders.take(ours.borders)
	formats, err := theirs.takeFormats(ours)
	if err != nil {
		return err
	}
	parent := theirs.normal()
	for _, xf := range ours.cellXfs.items {
		xf = renumber(xf, "fontId", fonts)
		xf = renumber(xf, "fillId", fills)
		xf = renumber(xf, "borderId", borders)
		xf = renumber(xf, "numFmtId", formats)
		xf = attrInTag("xfId").ReplaceAllString(xf, parent)
		m.styleMap = append(m.styleMap, theirs.cellXfs.one(xf))
	}
	if theirs.tooMany() {
		return fmt.Errorf("%w: its styles hold too many alternatives", ErrRefused)
	}
	m.changed[partKey(theirs.name)] = theirs.rewritten()
	return nil
}

// stylesName is the usual name of the part of styles, under which many programs look for it whatever the relations say,
// where it is free.
func (m *merge) stylesName() string {
	name := path.Join(m.dir, "styles.xml")
	if m.taken[strings.ToLower(name)] || m.target.Has(name) {
		return m.freeName("", "styles", ".xml")
	}
	m.taken[strings.ToLower(name)] = true
	return name
}

// styleSheet is the lists of a styles part that cell styles are made of.
type styleSheet struct {
	name                                    string
	data                                    []byte
	prefix                                  string
	numFmts, fonts, fills, borders, cellXfs collection
	root                                    *element // nil where the part is empty
}

func (m *merge) stylesOf(p *Package) (*styleSheet, error) {
	main := ""
	root, err := p.relations("")
	if err != nil {
		return nil, err
	}
	for _, r := range root {
		if r.kind == "officeDocument" {
			main = r.target
		}
	}
	rels, err := p.relations(main)
	if err != nil {
		return nil, err
	}
	for _, r := range rels {
		if r.kind == "styles" && p.Has(r.target) {
			return readStyleSheet(p, r.target)
		}
	}
	return nil, nil
}

func readStyleSheet(p *Package, name string) (*styleSheet, error) {
	s := &styleSheet{name: name}
	if p.files[strings.ToLower(name)].UncompressedSize64 == 0 {
		return s, nil
	}
	var err error
	if s.data, err = (&merge{target: p}).spliced(name); err != nil {
		return nil, err
	}
	s.prefix = prefixOf(s.data)
	s.root, err = root(s.data, "styleSheet")
	switch {
	case err != nil || s.root == nil:
		return nil, fmt.Errorf("%w: its styles are broken", ErrRefused)
	case s.root.empty:
		s.root = nil
		return s, nil
	}
	for _, c := range []struct {
		into       *collection
		list, item string
	}{{&s.numFmts, "numFmts", "numFmt"}, {&s.fonts, "fonts", "font"}, {&s.fills, "fills", "fill"}, {&s.borders, "borders", "border"},
		{&s.cellXfs, "cellXfs", "xf"}} {
		if err := s.collect(c.into, c.list, c.item); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// normal is the attribute that ties a cell style to the default one, as the part numbers it; nothing where it has none.
func (s *styleSheet) normal() string {
	if xfs, _, err := places(s.data, s.root, "cellStyleXfs", "xf"); err != nil || len(xfs) == 0 {
		return ""
	}
	named, err := children(s.data, s.root.inner, s.root.close, "cellStyle", 0)
	for i := range named {
		if err == nil && named[i].number("builtinId", -1) == 0 {
			return fmt.Sprintf(` xfId="%d"`, named[i].number("xfId", 0))
		}
	}
	return ` xfId="0"`
}

// formatOf reads the number and code of a numFmt item.
func formatOf(item string) (id int, code string) {
	s := scanner{data: []byte(item)}
	t, err := s.next()
	if err != nil {
		return -1, ""
	}
	code, _ = t.attr("formatCode")
	return t.number("numFmtId", -1), code
}

// takeFormats gives our own number formats (from 164 on) the number of an equal one, or the next free number. Formats are
// found by their number, so that no copies are needed; but numbers that stand in alternatives are neither free nor ours.
func (s *styleSheet) takeFormats(ours *styleSheet) (map[int]int, error) {
	known, next := map[string]int{}, 164
	for _, item := range slices.Concat(s.numFmts.items, s.numFmts.tail) {
		id, code := formatOf(item)
		known[code] = id
	}
	firm := len(s.numFmts.items)
	for _, p := range s.numFmts.at {
		all, err := children(s.data, p.inner, p.close, "numFmt", 0)
		if err != nil {
			return nil, fmt.Errorf("%w: its styles are broken", ErrRefused)
		}
		for i := range all {
			id := all[i].number("numFmtId", -1)
			next = max(next, id+1)
			if code, _ := all[i].attr("formatCode"); i >= firm && known[code] != id {
				forget(known, id)
			}
		}
	}
	s.numFmts.most = s.numFmts.least
	out := map[int]int{}
	for _, item := range ours.numFmts.items {
		id, code := formatOf(item)
		if _, ok := known[code]; !ok {
			known[code] = next
			s.numFmts.fresh = append(s.numFmts.fresh, fmt.Sprintf(`<numFmt numFmtId="%d" formatCode="%s"/>`, next, escape(code)))
			next++
		}
		out[id] = known[code]
	}
	return out, nil
}

// forget leaves out a number that may mean something else.
func forget(known map[string]int, id int) {
	maps.DeleteFunc(known, func(_ string, n int) bool { return n == id })
}

func attrInTag(name string) *regexp.Regexp { return regexp.MustCompile(` ` + name + `="(\d+)"`) }

// renumber changes a number in a cell style by a map; numbers that the map does not know (built-in formats) stay.
func renumber(xf, attr string, to map[int]int) string {
	return attrInTag(attr).ReplaceAllStringFunc(xf, func(s string) string {
		old, _ := strconv.Atoi(strings.Trim(s[strings.IndexByte(s, '=')+1:], `"`))
		if n, ok := to[old]; ok {
			return fmt.Sprintf(` %s="%d"`, attr, n)
		}
		return s
	})
}

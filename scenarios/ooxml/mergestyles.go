package ooxml

import (
	"fmt"
	"regexp"
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
		m.added = append(m.added, addedPart{m.freeName("", "styles", ".xml"), stylesType, bytesOf(ours.data)})
		return nil
	}
	fonts, fills, borders := theirs.fonts.take(ours.fonts), theirs.fills.take(ours.fills), theirs.borders.take(ours.borders)
	formats := theirs.takeFormats(ours)
	for _, xf := range ours.cellXfs.items {
		xf = renumber(xf, "fontId", fonts)
		xf = renumber(xf, "fillId", fills)
		xf = renumber(xf, "borderId", borders)
		xf = renumber(xf, "numFmtId", formats)
		xf = attrInTag("xfId").ReplaceAllString(xf, ` xfId="0"`)
		m.styleMap = append(m.styleMap, theirs.cellXfs.one(xf))
	}
	m.changed[partKey(theirs.name)] = theirs.rewritten()
	return nil
}

// styleSheet is the lists of a styles part that cell styles are made of.
type styleSheet struct {
	name                                    string
	data                                    []byte
	prefix                                  string
	numFmts, fonts, fills, borders, cellXfs collection
	root                                    *element // nil where the part is empty
}

// A collection is one list of a styles part: the raw text of its items without prefix, and how many stand in the part.
type collection struct {
	name  string
	at    *element // nil where the part lacks it
	items []string
	had   int
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
	}{{&s.numFmts, "numFmts", "numFmt"}, {&s.fonts, "fonts", "font"}, {&s.fills, "fills", "fill"}, {&s.borders, "borders", "border"}, {&s.cellXfs, "cellXfs", "xf"}} {
		if err := s.collect(c.into, c.list, c.item); err != nil {
			return nil, err
		}
	}
	return s, nil
}

func (s *styleSheet) collect(c *collection, list, item string) error {
	c.name = list
	e, err := find(s.data, list)
	if err != nil {
		return fmt.Errorf("%w: its styles are broken", ErrRefused)
	}
	if e == nil {
		return nil
	}
	c.at = e
	all, err := children(s.data, e.inner, e.close, item, 0)
	if err != nil {
		return fmt.Errorf("%w: its styles are broken", ErrRefused)
	}
	for _, x := range all {
		c.items = append(c.items, unprefixed(string(s.data[x.from:x.to]), s.prefix))
	}
	c.had = len(c.items)
	return nil
}

// unprefixed takes a prefix off every tag.
func unprefixed(xml, prefix string) string {
	if prefix == "" {
		return xml
	}
	return strings.NewReplacer("<"+prefix, "<", "</"+prefix, "</").Replace(xml)
}

// one returns the number of an item, appended where no equal one is there.
func (c *collection) one(item string) int {
	for i, x := range c.items {
		if x == item {
			return i
		}
	}
	c.items = append(c.items, item)
	return len(c.items) - 1
}

// take appends another collection and returns the number that each of its items gets.
func (c *collection) take(other collection) map[int]int {
	out := map[int]int{}
	for i, x := range other.items {
		out[i] = c.one(x)
	}
	return out
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

// takeFormats gives our own number formats (from 164 on) the number of an equal one, or the next free number.
func (s *styleSheet) takeFormats(ours *styleSheet) map[int]int {
	known := map[string]int{}
	next := 164
	for _, item := range s.numFmts.items {
		id, code := formatOf(item)
		known[code] = id
		next = max(next, id+1)
	}
	out := map[int]int{}
	for _, item := range ours.numFmts.items {
		id, code := formatOf(item)
		if _, ok := known[code]; !ok {
			known[code] = next
			s.numFmts.items = append(s.numFmts.items, fmt.Sprintf(`<numFmt numFmtId="%d" formatCode="%s"/>`, next, escape(code)))
			next++
		}
		out[id] = known[code]
	}
	return out
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

// rewritten splices the new items into the part.
func (s *styleSheet) rewritten() []byte {
	var edits []edit
	insert := s.root.inner
	for _, c := range []*collection{&s.numFmts, &s.fonts, &s.fills, &s.borders, &s.cellXfs} {
		fresh := prefixed(strings.Join(c.items[c.had:], ""), s.prefix)
		switch {
		case fresh == "":
		case c.at == nil:
			text := fmt.Sprintf("<%s%s count=\"%d\">%s</%s%s>", s.prefix, c.name, len(c.items), fresh, s.prefix, c.name)
			edits = append(edits, edit{insert, insert, text})
		default:
			open := setAttr(string(s.data[c.at.from:c.at.inner]), "count", strconv.Itoa(len(c.items)))
			if c.at.empty {
				open = strings.TrimSuffix(strings.TrimSuffix(open, ">"), "/") + ">"
				edits = append(edits, edit{c.at.from, c.at.to, open + fresh + "</" + s.prefix + c.name + ">"})
				break
			}
			edits = append(edits, edit{c.at.from, c.at.inner, open}, edit{c.at.close, c.at.close, fresh})
		}
		if c.at != nil {
			insert = c.at.to
		}
	}
	return splice(s.data, edits)
}

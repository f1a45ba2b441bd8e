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

// A collection is one list of a styles part: the raw text, without prefix, of its items that every program numbers alike,
// of those behind the last alternative, and of those that are added.
type collection struct {
	name  string
	at    []place // one, none where the part lacks it, or several that are alternatives
	end   int     // of the list in the part, with its alternatives
	items []string
	tail  []string
	fresh []string
	least int // what programs count in it: at least, and
	most  int // at most
}

// copies is how often each new item is written. Programs that count differently look for the item of a number at places
// up to most - least apart; so many copies stand there that all find it.
func (c *collection) copies() int { return c.most - c.least + 1 }

// number is that of the n-th new item: the last copy where the fewest are counted, the first where the most are.
func (c *collection) number(n int) int { return c.most + n*c.copies() }

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
	var err error
	if c.at, c.end, err = places(s.data, s.root, list, item); err != nil {
		return fmt.Errorf("%w: its styles are broken", ErrRefused)
	}
	for i, p := range c.at {
		if c.most = max(c.most, p.most); i == 0 || p.least < c.least {
			c.least = p.least
		}
	}
	if len(c.at) != 1 {
		return nil
	}
	for _, x := range c.at[0].firm {
		c.items = append(c.items, unprefixed(string(s.data[x.from:x.to]), s.prefix))
	}
	for _, x := range c.at[0].tail {
		c.tail = append(c.tail, unprefixed(string(s.data[x.from:x.to]), s.prefix))
	}
	return nil
}

// maxCopies bounds what alternatives add to a styles part.
const maxCopies = 1 << 14

func (s *styleSheet) tooMany() bool {
	for _, c := range s.lists() {
		if c.copies() > 1 && len(c.fresh) > maxCopies/c.copies() {
			return true
		}
	}
	return false
}

func (s *styleSheet) lists() []*collection {
	return []*collection{&s.numFmts, &s.fonts, &s.fills, &s.borders, &s.cellXfs}
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

// unprefixed takes a prefix off every tag.
func unprefixed(xml, prefix string) string {
	if prefix == "" {
		return xml
	}
	return strings.NewReplacer("<"+prefix, "<", "</"+prefix, "</").Replace(xml)
}

// one returns the number of an item, added where no equal one is there.
func (c *collection) one(item string) int {
	if i := slices.Index(c.items, item); i >= 0 {
		return i
	}
	if i := run(c.tail, item, c.copies()); i >= 0 { // of an earlier run
		return c.most - len(c.tail) + i
	}
	i := slices.Index(c.fresh, item)
	if i < 0 {
		i = len(c.fresh)
		c.fresh = append(c.fresh, item)
	}
	return c.number(i)
}

// run finds the first of so many equal items one after the other, -1 for none.
func run(items []string, item string, length int) int {
	n := 0
	for i, x := range items {
		if n++; x != item {
			n = 0
		}
		if n == length {
			return i + 1 - length
		}
	}
	return -1
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

// rewritten splices the new items into the part.
func (s *styleSheet) rewritten() []byte {
	var edits []edit
	insert := s.root.inner
	for _, c := range s.lists() {
		var fresh strings.Builder
		for _, item := range c.fresh {
			fresh.WriteString(strings.Repeat(prefixed(item, s.prefix), c.copies()))
		}
		n := len(c.fresh) * c.copies()
		switch {
		case n == 0:
		case len(c.at) == 0:
			edits = append(edits, edit{insert, insert, fmt.Sprintf("<%s%s count=\"%d\">%s</%s%s>", s.prefix, c.name, n, fresh.String(), s.prefix, c.name)})
		default:
			for i := range c.at {
				edits = append(edits, s.grown(&c.at[i], n, fresh.String())...)
			}
		}
		insert = max(insert, c.end)
	}
	return splice(s.data, edits)
}

// grown puts items at the end of a list.
func (s *styleSheet) grown(p *place, n int, fresh string) []edit {
	count := p.least
	if p.most > p.least {
		count = p.number("count", p.least)
	}
	open := setAttr(string(s.data[p.from:p.inner]), "count", strconv.Itoa(count+n))
	if p.empty {
		return []edit{{p.from, p.to, strings.TrimSuffix(strings.TrimSuffix(open, ">"), "/") + ">" + fresh + "</" + s.prefix + string(p.name) + ">"}}
	}
	return []edit{{p.from, p.inner, open}, {p.close, p.close, fresh}}
}

package ooxml

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// mc:AlternateContent (ECMA-376 part 3, 7.5 to 7.7) holds the same thing in several ways: a consumer takes the first Choice
// of which it understands all namespaces in Requires, else the Fallback. Which of them a program understands differs, and
// some leave the whole element out; so the number of an item that stands behind one in a list is not the same for all.

// extensions begin the namespaces that Excel understands and writes (from memory); a workbook's own numbers follow it.
var extensions = []string{mainNS, relationsNS, "http://schemas.microsoft.com/office/spreadsheetml/", "http://schemas.microsoft.com/office/excel/"}

const mainNS = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"

// prefixes are the namespaces that tags declare, by prefix.
type prefixes map[string]string

// add notes the declarations of a tag.
func (p prefixes) add(t *token) {
	for a := t.attrs; ; {
		key, value, rest, ok := nextAttr(a)
		if !ok {
			return
		}
		if name, declares := bytes.CutPrefix(key, []byte("xmlns:")); declares {
			p[string(name)] = string(value)
		}
		a = rest
	}
}

// understood tells whether a Choice is taken.
func (p prefixes) understood(choice *token) bool {
	requires, ok := choice.attr("Requires")
	own := prefixes{}
	own.add(choice)
	for _, prefix := range strings.Fields(requires) {
		name := own[prefix]
		if name == "" {
			name = p[prefix]
		}
		if !slices.ContainsFunc(extensions, func(e string) bool { return strings.HasPrefix(name, e) }) {
			return false
		}
	}
	return ok
}

// chooser follows the alternatives of a part while it is walked.
type chooser struct {
	names prefixes
	taken []bool // of the alternatives that are open, outer first
}

// skips tells whether a tag begins a branch that is not taken, and walks to its end.
func (c *chooser) skips(s *scanner, t *token) (bool, error) {
	name := string(t.name)
	switch {
	case t.kind == startTag && len(c.taken) == 0 && name != "AlternateContent":
		if s.depth <= 1 { // the root element
			c.names.add(t)
		}
	case name == "AlternateContent" && t.kind == endTag:
		c.taken = c.taken[:max(0, len(c.taken)-1)]
	case name == "AlternateContent" && !t.empty:
		c.names.add(t)
		c.taken = append(c.taken, false)
	case t.kind == startTag && len(c.taken) > 0 && (name == "Choice" || name == "Fallback"):
		last := len(c.taken) - 1
		if !c.taken[last] && (name == "Fallback" || c.names.understood(t)) {
			c.taken[last] = true
			return false, nil
		}
		if t.empty {
			return true, nil
		}
		return true, s.closeOf(&element{token: *t})
	}
	return false, nil
}

// A place is a list in a part, and how many items programs count in it.
type place struct {
	element
	firm  []element // the items that stand before any alternative: every program gives them the same number
	tail  []element // those behind the last one
	least int       // of items, where alternatives are left out
	most  int       // where the items of all branches are counted
}

// places finds the lists of a name that stand at a level of a part, or in the alternatives there. end is where that of them
// ends that stands there itself, 0 for none.
func places(data []byte, in *element, list, item string) (out []place, end int, err error) {
	return placesWithin(data, in, list, item, 0)
}

// maxAlternates bounds how deep alternatives stand in one another.
const maxAlternates = 8

func placesWithin(data []byte, in *element, list, item string, depth int) (out []place, end int, err error) {
	if depth > maxAlternates {
		return nil, 0, fmt.Errorf("its alternatives stand in one another more than %d deep", maxAlternates)
	}
	all, err := children(data, in.inner, in.close, "", 0)
	if err != nil {
		return nil, 0, err
	}
	for i := range all {
		e := &all[i]
		switch string(e.name) {
		case list:
			p, err := placeOf(data, e, item)
			if err != nil {
				return nil, 0, err
			}
			out, end = append(out, p), e.to
		case "AlternateContent":
			branches, err := children(data, e.inner, e.close, "", 0)
			if err != nil {
				return nil, 0, err
			}
			for j := range branches {
				inside, last, err := placesWithin(data, &branches[j], list, item, depth+1)
				if err != nil {
					return nil, 0, err
				}
				if out = append(out, inside...); last > 0 {
					end = e.to
				}
			}
		}
	}
	return out, end, nil
}

func placeOf(data []byte, e *element, item string) (place, error) {
	p := place{element: *e}
	all, err := children(data, e.inner, e.close, "", 0)
	if err != nil {
		return p, err
	}
	alternates := false
	for i := range all {
		switch string(all[i].name) {
		case item:
			if alternates {
				p.tail = append(p.tail, all[i])
			} else {
				p.firm = append(p.firm, all[i])
			}
			p.least++
			p.most++
		case "AlternateContent":
			nested, err := children(data, all[i].inner, all[i].close, item, 0)
			if err != nil {
				return p, err
			}
			p.most += len(nested)
			alternates, p.tail = true, nil
		}
	}
	return p, nil
}

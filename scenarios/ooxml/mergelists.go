package ooxml

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

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

package costmodel

import (
	"crypto/sha256"
	"fmt"
	"slices"
)

// findAlike finds the tags that stand on the very same rows, so that each of them, or several, bring the same in, and
// whether other tags share a row.
func (c *Combiner) findAlike() {
	var rows [][]int // by row: its tags
	for _, p := range c.union.parts {
		rows = append(rows, p.tags)
		for i := range p.steps {
			rows = append(rows, p.steps[i].tags)
		}
		for _, l := range p.links {
			rows = append(rows, l.tags)
		}
	}
	on := make([][]int, len(c.tags)) // by tag: its rows
	for r, tags := range rows {
		for _, t := range tags {
			on[t] = append(on[t], r)
		}
	}
	class := map[string]int{}
	of := make([]int, len(c.tags))
	for t := range c.tags {
		key := fmt.Sprint(on[t])
		if len(on[t]) == 0 {
			key = fmt.Sprint("none ", t) // a scenario took it off its rows
		}
		at, ok := class[key]
		if !ok {
			at = len(c.alike)
			class[key] = at
			c.alike = append(c.alike, nil)
		}
		of[t] = at
		c.alike[at] = append(c.alike[at], t)
	}
	for _, tags := range rows {
		for _, t := range tags {
			c.overlap = c.overlap || of[t] != of[tags[0]]
		}
	}
}

// SameRows lists the tags that stand on the same rows, where there is more than one, as first written.
func (c *Combiner) SameRows() [][]string {
	var out [][]string
	for _, alike := range c.alike {
		var names []string
		for _, t := range alike {
			names = append(names, c.tags[t])
		}
		if len(names) > 1 {
			out = append(out, names)
		}
	}
	return out
}

// oneOfTwins takes all but one out of tags that stand on the same rows; those that are fixed stay as they are.
func (c *Combiner) oneOfTwins(fixed []int) []int {
	out := slices.Clone(fixed)
	for _, alike := range c.alike {
		keep := slices.IndexFunc(alike, func(t int) bool { return fixed[t] > 0 })
		if keep < 0 {
			keep = slices.IndexFunc(alike, func(t int) bool { return fixed[t] == 0 })
		}
		for i, t := range alike {
			if i != keep && out[t] == 0 {
				out[t] = -1
			}
		}
	}
	return out
}

// rowSet stands for the rows of a combination: the first half of a SHA-256. Millions are remembered, so it is short; that
// two of five million would be the same by chance has a probability of 4 in 10^26.
type rowSet [16]byte

// rowSet is that of the combination that was marked last; bits is by column, room to work in.
func (g *union) rowSet(bits []byte) rowSet {
	clear(bits)
	for i, there := range g.there {
		if there {
			bits[i/8] |= 1 << (i % 8)
		}
	}
	sum := sha256.Sum256(bits)
	return rowSet(sum[:16])
}

// Again tells whether the combination that was added last has the very rows of one since Each began, so that they differ
// only in tags without effect, and takes it out of the block. It is meant to be called once after each Add that went well.
// It remembers some 20 to 45 bytes for each combination that was new.
func (c *Combiner) Again() bool {
	if !c.overlap {
		return false // a row then bears one tag, or tags of the same rows, and what differs in tags differs in rows
	}
	if c.bits == nil {
		c.bits = make([]byte, (len(c.union.there)+7)/8)
	}
	rows := c.union.rowSet(c.bits)
	if _, again := c.seen[rows]; again {
		c.lane--
		return true
	}
	c.seen[rows] = struct{}{}
	return false
}

// Fewest takes the tags out of a combination without which it has the same rows; those fixed in stay.
func (c *Combiner) Fewest(in []bool) []bool {
	out := slices.Clone(in)
	if !c.overlap || !c.union.mark(out) {
		return out
	}
	rows := slices.Clone(c.union.there)
	for t := len(out) - 1; t >= 0; t-- {
		if !out[t] || c.fixed[t] > 0 {
			continue
		}
		out[t] = false
		if !c.union.mark(out) || !slices.Equal(rows, c.union.there) {
			out[t] = true
		}
	}
	return out
}

package units

import (
	"maps"
	"math"
	"slices"
	"strings"
)

// A Group is the units of one dimension, for help.
type Group struct {
	Measures string // "length"
	Coherent string // "m"
	Units    []Unit // the smallest first; Text is the symbol
}

// Groups lists all units that are known by name, the groups by their dimension: plain numbers, angles, the bases, then what is made
// of them.
func Groups() []Group {
	by := map[string][]Unit{}
	for _, symbol := range slices.Sorted(maps.Keys(symbols)) {
		u := symbols[symbol]
		u.Text = symbol
		by[u.measures()] = append(by[u.measures()], u)
	}
	var out []Group
	for _, what := range slices.SortedFunc(maps.Keys(by), func(a, b string) int { return compareGroups(by[a][0], by[b][0]) }) {
		list := by[what]
		slices.SortStableFunc(list, func(a, b Unit) int { return compareFactors(a, b) })
		out = append(out, Group{Measures: what, Coherent: list[0].Dim.String(), Units: list})
	}
	return out
}

// measures names what a unit measures, without an article.
func (u Unit) measures() string {
	if u.Angle() {
		return "angle"
	}
	return strings.TrimPrefix(named[u.Dim], "a ")
}

func compareFactors(a, b Unit) int {
	switch {
	case math.Abs(a.Factor-b.Factor) < 1e-15*a.Factor:
		return int(a.Zero - b.Zero)
	case a.Factor < b.Factor:
		return -1
	}
	return 1
}

// compareGroups orders dimensions by how many bases they have, then by the first base, then by its power.
func compareGroups(a, b Unit) int {
	if a.Angle() != b.Angle() && a.Dim == b.Dim {
		if a.Angle() {
			return 1
		}
		return -1
	}
	p, q := a.Dim.powers(), b.Dim.powers()
	if d := bases(p) - bases(q); d != 0 {
		return d
	}
	for i := range p {
		switch {
		case p[i] != q[i] && p[i] == 0:
			return 1
		case p[i] != q[i] && q[i] == 0:
			return -1
		case p[i] != q[i]:
			return int(p[i] - q[i])
		}
	}
	if a.Dim.Level == b.Dim.Level {
		return 0
	}
	if a.Dim.Level {
		return 1
	}
	return -1
}

func bases(p [8]int8) int {
	n := 0
	for _, power := range p {
		if power != 0 {
			n++
		}
	}
	return n
}

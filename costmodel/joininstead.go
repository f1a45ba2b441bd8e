package costmodel

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Which links stand for one another no sheet says, so it is taken from what the scenarios list and, where that leaves a
// choice, from the words by which the user calls them. A report says what was found, and a scenario that lists two together
// settles that they don't stand for one another.

// joinWays is what the scenarios say of options: which they list.
type joinWays struct {
	o        *JoinOptions
	words    []map[string]bool // by option
	lists    [][]int           // options that a scenario lists, each list once, in the order of the scenarios
	together [][]bool          // by pair of options: a scenario lists both; on the diagonal, lists it at all
}

// ways reads the lists of all scenarios; nil where there are too many options for anybody to say which stands for which.
func (o *JoinOptions) ways(all []*Scenario) *joinWays {
	n := len(o.Options)
	if n > mostCompared {
		return nil
	}
	w := &joinWays{o: o, words: make([]map[string]bool, n), together: make([][]bool, n)}
	for i := range n {
		w.words[i], w.together[i] = o.words(i), make([]bool, n)
	}
	known := map[string]bool{}
	for _, s := range all {
		list := o.listed(s)
		key := fmt.Sprint(list)
		if known[key] {
			continue
		}
		known[key] = true
		w.lists = append(w.lists, list)
		for _, i := range list {
			for _, k := range list {
				w.together[i][k] = true
			}
		}
	}
	return w
}

// listed lists the options of which a scenario lists a tag.
func (o *JoinOptions) listed(s *Scenario) []int {
	var out []int
	for i := range o.Options {
		if slices.ContainsFunc(o.Options[i].Tags, s.lists) {
			out = append(out, i)
		}
	}
	return out
}

// split says which options stand for one another where these are listed. Of one that is listed and those that stand for it
// one is taken. Where none is listed all are extras, and so is what is left.
func (o *JoinOptions) split(w *joinWays, listed []int) []JoinOptions {
	var out []JoinOptions
	taken := make([]bool, len(o.Options))
	for _, list := range w.groups(listed) {
		out = append(out, o.only(list, true, true))
		for _, i := range list {
			taken[i] = true
		}
	}
	var extras []int
	some := false
	for i := range o.Options {
		if !taken[i] {
			extras = append(extras, i)
			some = some || slices.Contains(listed, i)
		}
	}
	if len(extras) > 0 {
		out = append(out, o.only(extras, false, some))
	}
	return out
}

// only makes options of some of them.
func (o *JoinOptions) only(list []int, one, listed bool) JoinOptions {
	out := JoinOptions{Parent: o.Parent, step: o.step, One: one, Listed: listed}
	for _, i := range list {
		out.Options = append(out.Options, o.Options[i])
	}
	return out
}

// leftOutBy finds options of which one is taken elsewhere and none where these are listed, each option once.
func (w *joinWays) leftOutBy(listed []int) []JoinOptions {
	var out []JoinOptions
	met := slices.Clone(listed)
	for _, list := range w.lists {
		for _, group := range w.groups(list) {
			if !slices.ContainsFunc(group, func(i int) bool { return slices.Contains(met, i) }) {
				out = append(out, w.o.only(group, true, false))
				met = append(met, group...)
			}
		}
	}
	return out
}

// groups lists the options of which one is taken where these are listed, in the order of the sheet.
func (w *joinWays) groups(listed []int) [][]int {
	if w == nil {
		return nil
	}
	p := pairs{joinWays: w, listed: listed, instead: make([][]int, len(w.words))}
	for _, i := range listed {
		p.instead[i] = []int{i}
	}
	p.assign()
	var out [][]int
	for _, list := range p.instead {
		if len(list) > 1 {
			slices.Sort(list)
			out = append(out, list)
		}
	}
	return out
}

// pairs finds which option stands for which.
type pairs struct {
	*joinWays
	listed     []int
	listedWith map[string]int // by word: how many of the listed ones have it
	instead    [][]int        // by option that is listed: itself and what stands for it
}

// assign takes for each option that is not listed those listed ones that no scenario lists together with it; of several, the
// one with which it shares a word. Of one, it is that, but for an option without a word of it beside others with one: an
// extra then, unless a scenario lists it without any of these.
func (p *pairs) assign() {
	p.listedWith = map[string]int{}
	for _, k := range p.listed {
		for w := range p.words[k] {
			p.listedWith[w]++
		}
	}
	var unmatched []int
	for t := range p.words {
		if slices.Contains(p.listed, t) {
			continue
		}
		if like := p.alike(t); len(like) == 1 {
			p.instead[like[0]] = append(p.instead[like[0]], t)
		} else {
			unmatched = append(unmatched, t)
		}
	}
	alike := map[int][]int{}
	for _, k := range p.listed {
		alike[k] = slices.Clone(p.instead[k])
	}
	for _, t := range unmatched {
		if c := p.candidates(t); len(c) == 1 && (len(alike[c[0]]) == 1 || p.alone(t, alike[c[0]])) {
			p.instead[c[0]] = append(p.instead[c[0]], t)
		}
	}
}

// candidates are the listed options that no scenario lists together with another one.
func (p *pairs) candidates(t int) []int {
	var out []int
	for _, k := range p.listed {
		if !p.together[t][k] {
			out = append(out, k)
		}
	}
	return out
}

// alike are the candidates with which an option shares a word that no other listed one has.
func (p *pairs) alike(t int) []int {
	var out []int
	for _, k := range p.candidates(t) {
		for w := range p.words[k] {
			if p.words[t][w] && p.listedWith[w] == 1 {
				out = append(out, k)
				break
			}
		}
	}
	return out
}

// alone tells whether a scenario lists an option, and none lists it together with one of the others.
func (p *pairs) alone(t int, others []int) bool {
	return p.together[t][t] && !slices.ContainsFunc(others, func(k int) bool { return p.together[t][k] })
}

// shortestWord is the number of letters below which a word names nothing: a, to, B2.
const shortestWord = 3

// words are those of an option's tags and of the keys of its children, in small letters.
func (o *JoinOptions) words(i int) map[string]bool {
	out := map[string]bool{}
	add := func(text string) {
		for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
			if len([]rune(w)) >= shortestWord {
				out[w] = true
			}
		}
	}
	for _, t := range o.Options[i].Tags {
		add(t)
	}
	for _, l := range o.Options[i].Links {
		add(l.Text("child"))
	}
	return out
}

package costmodel

import (
	"fmt"
	"sort"
	"strings"

	"piececost/costmodel/formula"
)

// taggedScopes are those whose rows may bear alternatives, with what a row is to a person.
var taggedScopes = []struct{ scope, noun string }{{"part", "part"}, {"link", "link"}, {"operation", "operation"}}

// Unlisted is the code of the warning that no scenario lists a row's alternative, which combinations of alternatives need
// not mind.
const Unlisted = "unlisted"

// tagWatch looks for tags of rows that no scenario lists.
type tagWatch struct {
	m      *Model
	listed map[string]bool
	borne  []string // listed, and rows bear them
	lost   []string // listed, and no row bears them: that is an error of its own
	seen   map[string]bool
}

// mostCompared bounds the words that misspelt ones are compared with.
const mostCompared = 1000

// unlistedTags warns of tags of rows that no scenario lists, once each, at the first row: of rows that count in no scenario,
// and of tags that are nearly one that is listed.
func (m *Model) unlistedTags() {
	w := tagWatch{m: m, listed: map[string]bool{}, seen: map[string]bool{}}
	for _, s := range m.Scenarios {
		tags := m.tags(s)
		for _, t := range lowered(s.Alternatives) {
			switch {
			case w.listed[t] || len(w.listed) > mostCompared:
			case contains(tags, t):
				w.borne = append(w.borne, t)
			default:
				w.lost = append(w.lost, t)
			}
			w.listed[t] = true
		}
	}
	for _, of := range taggedScopes {
		for _, r := range m.records[of.scope] {
			w.row(r, of.noun)
		}
	}
}

func (w *tagWatch) row(r *Record, noun string) {
	var tags []string
	for _, t := range splitList(r.Text("alternative")) {
		key := strings.ToLower(t)
		if w.listed[key] || w.seen[key] || nearTag(key, w.lost) != "" {
			continue
		}
		if near := nearTag(key, w.borne); near != "" {
			w.warn(r, noun, []string{t}, "list it in the row Alternatives of Scenarios, or write "+near+" if that is meant")
		} else if !w.m.countsSomewhere(r) {
			tags = append(tags, t)
		}
	}
	if len(tags) > 0 {
		w.warn(r, noun, tags, "list it in the row Alternatives of Scenarios; `piececost combine` tries it unlisted")
	}
}

func (w *tagWatch) warn(r *Record, noun string, tags []string, help string) {
	for _, t := range tags {
		w.seen[strings.ToLower(t)] = true
	}
	w.m.Diagnostics.Warn(Unlisted, r.TextPlace("alternative"), fmt.Sprintf("no scenario lists the alternative %s of %s %s", quotedList(tags), noun,
		r.Key), help)
}

// nearTag finds the tag that another one may be meant for: gauge 0.65 is not meant for gauge 0.75, nor press 2 for press 3.
func nearTag(tag string, list []string) string {
	digits := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r < '0' || r > '9' {
				return -1
			}
			return r
		}, s)
	}
	var same []string
	for _, t := range list {
		if digits(t) == digits(tag) {
			same = append(same, t)
		}
	}
	return formula.Nearest(tag, same)
}

// quotedList writes `"a"`, `"a" or "b"`.
func quotedList(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = fmt.Sprintf("%q", w)
	}
	return strings.Join(out, " or ")
}

// countsSomewhere tells whether a row counts in a scenario.
func (m *Model) countsSomewhere(r *Record) bool {
	for _, s := range m.Scenarios {
		if s.counts(r) {
			return true
		}
	}
	return false
}

// unknownTags reports alternatives of a scenario that no row bears, as the sheets have it or as the scenario changes it.
func (m *Model) unknownTags(s *Scenario) {
	tags := m.tags(s)
	for _, a := range s.Alternatives {
		if !contains(tags, strings.ToLower(a)) {
			help := nearestOr(strings.ToLower(a), tags, "write a word of a column Alternative, or leave it out")
			m.Diagnostics.Add("scenario", s.record.TextPlace("alternatives"), fmt.Sprintf("no row has the alternative %q", a), help)
		}
	}
}

// tags lists the alternatives that rows bear in a scenario, in lower case.
func (m *Model) tags(s *Scenario) []string {
	seen := map[string]bool{}
	for _, of := range taggedScopes {
		for _, r := range m.records[of.scope] {
			for _, t := range lowered(s.tagsOf(r)) {
				seen[t] = true
			}
		}
	}
	out := make([]string, 0, len(seen))
	for t := range seen {
		out = append(out, t)
	}
	sort.Strings(out)
	return out
}

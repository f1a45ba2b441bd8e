package costmodel

import (
	"fmt"
	"strings"
)

// JoinOptions are links of one parent that compete: they join at one step, or join one child at several steps, under
// different tags of the column Alternative.
type JoinOptions struct {
	Parent  string
	step    string // at which all of them join; "" where they join one child at several steps
	Options []JoinOption
	// One tells that exactly one option is taken in a combination of alternatives that has the parent; else they are extras,
	// any number of which is taken.
	One    bool
	Listed bool // the scenario lists one of them
}

// A JoinOption is the links that the same tags bring in.
type JoinOption struct {
	Tags  []string // as first written
	Links []*Record
}

// mostNamed bounds the options that a sentence names.
const mostNamed = 12

// Names lists the options in words: "COVER_A (old cover) and COVER_C (thin cover) at step 30 of TRAY_A".
func (o *JoinOptions) Names() string {
	var names []string
	for i, x := range o.Options {
		if i == mostNamed {
			names = append(names, fmt.Sprintf("%d more", len(o.Options)-i))
			break
		}
		var links []string
		for i, l := range x.Links {
			if i == mostRelated {
				links = append(links, fmt.Sprintf("%d more", len(x.Links)-i))
				break
			}
			if o.step != "" {
				links = append(links, l.Text("child"))
			} else {
				links = append(links, "operation "+l.Text("joined_at_operation"))
			}
		}
		names = append(names, fmt.Sprintf("%s (%s)", wordList(links), strings.Join(x.Tags, ", ")))
	}
	if o.step != "" {
		return fmt.Sprintf("%s at operation %s of %s", wordList(names), o.step, o.Parent)
	}
	return fmt.Sprintf("%s for %s of %s", wordList(names), o.Options[0].Links[0].Text("child"), o.Parent)
}

// wordList writes "a, b and c".
func wordList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// linkGroup collects the links of a parent that compete.
type linkGroup struct {
	JoinOptions
	at map[string]int // by tag in small letters: its option
}

// add puts a link into the options of its tags.
func (g *linkGroup) add(r *Record, tags []string) {
	for _, t := range tags {
		key := strings.ToLower(t)
		i, known := g.at[key]
		if !known {
			i = len(g.Options)
			g.at[key] = i
			g.Options = append(g.Options, JoinOption{Tags: []string{t}})
		}
		if x := &g.Options[i]; len(x.Links) == 0 || x.Links[len(x.Links)-1] != r {
			x.Links = append(x.Links, r)
		}
	}
}

// merge makes one option of tags that stand on the same links.
func (g *linkGroup) merge() {
	var out []JoinOption
	at := map[string]int{}
	for _, x := range g.Options {
		var key strings.Builder
		for _, r := range x.Links {
			fmt.Fprint(&key, r.Row, " ")
		}
		if i, known := at[key.String()]; known {
			out[i].Tags = append(out[i].Tags, x.Tags...)
			continue
		}
		at[key.String()] = len(out)
		out = append(out, x)
	}
	g.Options = out
}

// joinOptions finds the options of all parents as a scenario has its rows, in the order of the sheet: links that join at one
// step, and of the rest those that join one child. One option alone is none.
func (m *Model) joinOptions(s *Scenario) []JoinOptions {
	met := map[*Record]bool{}
	var out []JoinOptions
	for _, byStep := range []bool{true, false} {
		found := m.competing(s, byStep, met)
		for _, o := range found {
			for _, x := range o.Options {
				for _, r := range x.Links {
					met[r] = true
				}
			}
		}
		out = append(out, found...)
	}
	return out
}

// competing groups the links that are not met by parent and step, or by parent and child.
func (m *Model) competing(s *Scenario, byStep bool, met map[*Record]bool) []JoinOptions {
	type key struct {
		parent, child string
		step          float64
	}
	at := map[key]int{}
	var all []*linkGroup
	for _, r := range m.records["link"] {
		tags := s.tagsOf(r)
		step, _ := s.text(r, "joined_at_operation")
		n, ok := stepNumber(step)
		if len(tags) == 0 || !ok || met[r] {
			continue
		}
		k := key{parent: r.Text("parent"), step: n}
		if !byStep {
			k, step = key{parent: k.parent, child: r.Text("child")}, ""
		}
		i, known := at[k]
		if !known {
			i = len(all)
			at[k] = i
			all = append(all, &linkGroup{JoinOptions{Parent: k.parent, step: step}, map[string]int{}})
		}
		all[i].add(r, tags)
	}
	var out []JoinOptions
	for _, g := range all {
		if g.merge(); len(g.Options) > 1 {
			out = append(out, g.JoinOptions)
		}
	}
	return out
}

package costmodel

import (
	"slices"
	"strings"

	"piececost/costmodel/table"
)

// Describe finds the definition of a quantity of a scope in the library: what all rows share first, then forms and
// processes. It is nil for a name that is not a quantity.
func (lib *Library) Describe(scope, name string) *Item {
	for _, list := range [][]*Template{lib.Scopes, lib.Forms, lib.Processes, lib.Tools, lib.Sizes} {
		for _, t := range list {
			if t.Scope != scope {
				continue
			}
			for i := range t.Items {
				if t.Items[i].Name == name || table.Normalise(t.Items[i].Label) == name || slices.Contains(t.Items[i].aliases, name) {
					return &t.Items[i]
				}
			}
		}
	}
	return nil
}

// Names lists the forms or processes by name.
func Names(list []*Template) []string {
	var out []string
	for _, t := range list {
		out = append(out, t.Name)
	}
	return out
}

// Sentence makes a note a sentence for a person: first letter large, and where there is a source, the source after it.
func (it *Item) Sentence() string {
	text := it.Note
	if it.Source != "" {
		text = strings.TrimSpace(text + " (source: " + it.Source + ")")
	}
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// Shared lists the equations that are of no form or process: those of the scopes, of two scenarios held against each other, of benchmarks and of screening.
func (lib *Library) Shared() []*Template {
	out := slices.Clone(lib.Scopes)
	for _, t := range []*Template{lib.Comparison, lib.Benchmark, lib.Screening} {
		if t != nil {
			out = append(out, t)
		}
	}
	return out
}

// named tells whether a text is the name of a form or process, however it is written.
func (t *Template) named(text string) bool { return table.Normalise(t.Name) == table.Normalise(text) }

// alias tells whether a text is another name of a form or process.
func (t *Template) alias(text string) bool {
	key := table.Normalise(text)
	return slices.ContainsFunc(t.Aliases, func(a string) bool { return table.Normalise(a) == key })
}

// ToolPrefix stands before the name of a kind of tool where a process may bear the same name.
const ToolPrefix = "tool:"

// ToolKind is the kind of tool that a process mostly takes, or empty.
func (t *Template) ToolKind() string { return t.toolKind }

// Find returns a process, a form, a kind of tool or the equations of a scope by name, else by alias, or nil.
func (lib *Library) Find(name string) *Template {
	byScope := func(t *Template, text string) bool {
		return t.Name == "" && table.Normalise(t.Scope) == table.Normalise(text)
	}
	lists := [][]*Template{lib.Processes, lib.Forms, lib.Tools, lib.Sizes, lib.Shared()}
	if tool, is := strings.CutPrefix(strings.TrimSpace(strings.ToLower(name)), ToolPrefix); is {
		name, lists = tool, [][]*Template{lib.Tools}
	}
	for _, called := range []func(*Template, string) bool{(*Template).named, byScope, (*Template).alias} {
		for _, list := range lists {
			for _, t := range list {
				if called(t, name) {
					return t
				}
			}
		}
	}
	return nil
}

// Default writes the default of an input, with the one that takes its place, or the equation of a quantity.
func (it *Item) Default() string {
	if it.Statistic != "" {
		return string(it.Statistic) + " of " + it.Is
	}
	return strings.Join(append([]string{it.Is}, it.Otherwise...), ", else ")
}

package costmodel

import (
	"slices"

	"piececost/costmodel/table"
)

// Quotes are the definitions of templates/quotes of the same files as the library, read at the first call. The error names the file and line.
func (lib *Library) Quotes() (*QuoteLibrary, error) {
	if lib.quotes == nil {
		return &QuoteLibrary{Words: map[string][]Word{}, Form: map[string][]string{}}, nil
	}
	return lib.quotes()
}

// Describe finds what a cell gives a scope of quotes by its name or label, nil where it is no input.
func (lib *QuoteLibrary) Describe(scope, name string) *Item {
	t := lib.template(scope)
	if t == nil {
		return nil
	}
	i := slices.IndexFunc(t.Items, func(it Item) bool {
		return it.Input && !it.Fact && (it.Name == name || table.Normalise(it.Label) == name) && !lib.isBound(it.Name)
	})
	if i < 0 {
		return nil
	}
	return &t.Items[i]
}

// isBound tells the bounds of rules, which the sheet Quote rules gives and no quote.
func (lib *QuoteLibrary) isBound(name string) bool {
	return slices.ContainsFunc(lib.Rules, func(r QuoteRule) bool { return r.LowName() == name || r.HighName() == name })
}

// Word finds a row or column of words of a scope; ok is false where there is none of the name.
func (lib *QuoteLibrary) Word(scope, name string) (w Word, ok bool) {
	i := slices.IndexFunc(lib.Words[scope], func(w Word) bool { return w.Name == name })
	if i < 0 {
		return Word{}, false
	}
	return lib.Words[scope][i], true
}

// Asks tells whether a scope has a word or an input of a name.
func (lib *QuoteLibrary) Asks(scope, name string) bool {
	_, ok := lib.Word(scope, name)
	return ok || lib.Describe(scope, name) != nil
}

// Label is how a word or an input of a scope is called.
func (lib *QuoteLibrary) Label(scope, name string) string {
	if it := lib.Describe(scope, name); it != nil {
		return it.Label
	}
	return table.Label(name)
}

// NoteOf is what is said of a word or an input of a scope, as a sentence; "" where nothing is.
func (lib *QuoteLibrary) NoteOf(scope, name string) string {
	if it := lib.Describe(scope, name); it != nil {
		return it.Sentence()
	}
	w, _ := lib.Word(scope, name)
	return (&Item{Note: w.Note}).Sentence()
}

// SheetRows are all that the sheet Quotes may state, by name: what a supplier is asked for in the order of his form, then the rest.
func (lib *QuoteLibrary) SheetRows() []string {
	out := slices.Clone(lib.Form["quote"])
	add := func(name string) {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	for _, scope := range []string{"request", "quote"} {
		for _, w := range lib.Words[scope] {
			add(w.Name)
		}
		t := lib.template(scope)
		if t == nil {
			continue
		}
		for _, it := range t.Items {
			if lib.Describe(scope, it.Name) != nil {
				add(it.Name)
			}
		}
	}
	return out
}

package costmodel

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"sort"

	"go.yaml.in/yaml/v3"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A QuoteLibrary holds the definitions of templates/quotes: what a request, a quote and its lines are asked for, the chain to equal
// terms and the rules by which quotes are checked, all as text.
type QuoteLibrary struct {
	Templates []*Template // of the scopes request, quote and quote line
	Words     map[string][]Word
	Form      map[string][]string // by scope: what stands in a supplier's form, in its order; of the request what he is told
	Chain     []ChainStep
	Open      []OpenText
	Rules     []QuoteRule
	Patterns  []QuotePattern
	parsed    *parsedFormulas // shared with copies of which a text is changed
}

// A QuotePattern is what several findings together may mean. It is no accusation: a low price is not improper by itself.
type QuotePattern struct {
	Pattern, Says string
	All, Any      []string // findings, a rule and where it matters the side of its bounds: r9 low
	AtLeast       int      `yaml:"at least"` // of Any
	Where         string   // a condition that must hold too
	number        int
}

// WhereName is the quantity that a pattern's condition becomes.
func (p QuotePattern) WhereName() string { return fmt.Sprintf("pattern_%d_where", p.number) }

// An OpenText is what is asked for where a step of the chain counts 0 since a quantity that it needs is not there.
type OpenText struct {
	Step              int
	Lacks, Where, Ask string // Where is the condition under which the step needs it; "" for always
	number            int
}

// WhereName is the quantity that the condition becomes.
func (o OpenText) WhereName() string { return fmt.Sprintf("open_%d_where", o.number) }

// A Word is a column or row of words that a scope may have.
type Word struct {
	Name string
	Kind string // date or month; "" for any words
	Note string
}

// A ChainStep is a step from the stated price to the levelised delivered cost. Shows, Change and Sum name quantities of a quote.
type ChainStep struct {
	Step                       int
	Label                      string
	Shows, Stated, Change, Sum string
	Aside                      bool // it is shown beside the chain and is no part of it
	Place                      table.Place
}

// Of is the quantity that a step shows: its change, or what it stands at.
func (c ChainStep) Of() string {
	for _, name := range []string{c.Change, c.Shows, c.Sum, c.Stated} {
		if name != "" {
			return name
		}
	}
	return ""
}

// A QuoteRule is a rule by which quotes are checked: a value that should lie between two bounds.
type QuoteRule struct {
	Name     string
	Scope    string // quote or quote line
	What     string // what is held against what, in a few words
	Shows    string // what a finding may point to: error, low, high, contract
	Unit     string // of the value
	Value    string
	Low      string // "" for none
	High     string
	Effect   string // currency a piece, in the model currency; quoted less corrected
	Question string
	Open     string // asked where the value is not there, as an open point; "" where that is no question
	Source   string
	Place    table.Place

	OwnCurrency bool `yaml:"own currency"` // value and bounds are in the quote's currency, not in the model's
}

// ValueName is the quantity that holds the rule's value.
func (r QuoteRule) ValueName() string { return r.Name + "_value" }

// LowName is the quantity that holds its lower bound.
func (r QuoteRule) LowName() string { return r.Name + "_low" }

// HighName is the quantity that holds its upper bound.
func (r QuoteRule) HighName() string { return r.Name + "_high" }

// EffectName is the quantity that holds its effect, model currency a piece.
func (r QuoteRule) EffectName() string { return r.Name + "_effect" }

// quoteFile is the form of a file of templates/quotes beside that of any other.
type quoteFile struct {
	templateFile `yaml:",inline"`
	Words, Facts yaml.Node
	Asked        []string
	Chain        []yaml.Node
	Open         []OpenText
	Rules        []yaml.Node
	Patterns     []QuotePattern
}

// LoadQuotes reads quotes/ of templates. An error names the file and line.
func LoadQuotes(files fs.FS) (*QuoteLibrary, error) {
	names, err := fs.Glob(files, path.Join("quotes", "*.yaml"))
	if err != nil {
		return nil, err
	}
	sort.Strings(names)
	lib := &QuoteLibrary{Words: map[string][]Word{}, Form: map[string][]string{}, parsed: &parsedFormulas{}}
	for _, name := range names {
		if err := lib.load(files, name); err != nil {
			return nil, err
		}
	}
	if err := lib.checkForm(); err != nil {
		return nil, err
	}
	for _, r := range lib.Rules {
		t := lib.template(r.Scope)
		if t == nil {
			return nil, fmt.Errorf("%s:%d: the rule %s is of no scope of quotes", r.Place.File, r.Place.Row, r.Name)
		}
		t.Items = append(t.Items, r.items()...)
	}
	if err := lib.complete(); err != nil {
		return nil, err
	}
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		return nil, err
	}
	var ds table.Diagnostics
	schema := newSchema(lib.library(nil), sys, nil, nil, &ds)
	if len(ds) > 0 {
		return nil, fmt.Errorf("%s", ds[0])
	}
	return lib, lib.checkChain(schema.byName["quote"])
}

// checkChain refuses a step that names what a quote has not, or that has nothing to show.
func (lib *QuoteLibrary) checkChain(quote *Scope) error {
	for _, o := range lib.Open {
		if _, ok := quote.index[o.Lacks]; !ok {
			return fmt.Errorf("an open point of step %d names %q, which a quote has not", o.Step, o.Lacks)
		}
	}
	for _, c := range lib.Chain {
		for _, name := range []string{c.Shows, c.Stated, c.Change, c.Sum} {
			if _, ok := quote.index[name]; !ok && name != "" {
				return fmt.Errorf("%s:%d: step %d names %q, which a quote has not", c.Place.File, c.Place.Row, c.Step, name)
			}
		}
		if c.Of() == "" || c.Aside && c.Shows == "" {
			return fmt.Errorf("%s:%d: step %d shows nothing", c.Place.File, c.Place.Row, c.Step)
		}
	}
	return nil
}

func (lib *QuoteLibrary) load(files fs.FS, name string) error {
	raw, err := fs.ReadFile(files, name)
	if err != nil {
		return err
	}
	var f quoteFile
	if err := yaml.Unmarshal(raw, &f); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	t := lib.template(f.Scope)
	if t == nil {
		t = &Template{File: name, Scope: f.Scope, Title: f.Title, Note: f.Note}
		lib.Templates = append(lib.Templates, t)
	}
	if err := t.read(&f.Inputs, true); err != nil {
		return err
	}
	first := len(t.Items)
	if err := t.read(&f.Facts, true); err != nil {
		return err
	}
	for i := first; i < len(t.Items); i++ {
		t.Items[i].Fact = true
	}
	if err := t.read(&f.Quantities, false); err != nil {
		return err
	}
	if err := t.readChecks(f.Checks); err != nil {
		return err
	}
	if err := lib.readWords(name, f.Scope, &f.Words); err != nil {
		return err
	}
	return lib.readLists(name, t, f)
}

// checkForm is an error where a supplier's form names what its scope does not ask for.
func (lib *QuoteLibrary) checkForm() error {
	for _, t := range lib.Templates {
		for _, name := range lib.Form[t.Scope] {
			if !lib.Asks(t.Scope, name) {
				return fmt.Errorf("%s: the form names %q, which is neither a word nor an input of a %s", t.File, name, t.Scope)
			}
		}
	}
	return nil
}

// readLists reads the chain, the rules and the patterns of a file.
func (lib *QuoteLibrary) readLists(name string, t *Template, f quoteFile) error {
	lib.Form[t.Scope] = append(lib.Form[t.Scope], f.Asked...)
	for _, p := range f.Patterns {
		p.number = len(lib.Patterns) + 1
		if p.Where != "" {
			t.Items = append(t.Items, Item{Name: p.WhereName(), Label: p.Pattern, Unit: "flag", Is: p.Where, place: table.Place{File: name}})
		}
		lib.Patterns = append(lib.Patterns, p)
	}
	for _, o := range f.Open {
		o.number = len(lib.Open) + 1
		if o.Where != "" {
			t.Items = append(t.Items, Item{Name: o.WhereName(), Label: o.Ask, Unit: "flag", Is: o.Where, place: table.Place{File: name}})
		}
		lib.Open = append(lib.Open, o)
	}
	for i := range f.Chain {
		c := ChainStep{Place: table.Place{File: name, Row: f.Chain[i].Line}}
		if err := f.Chain[i].Decode(&c); err != nil {
			return fmt.Errorf("%s:%d: %w", name, f.Chain[i].Line, err)
		}
		lib.Chain = append(lib.Chain, c)
	}
	for i := range f.Rules {
		r := QuoteRule{Scope: f.Scope, Place: table.Place{File: name, Row: f.Rules[i].Line}}
		if err := f.Rules[i].Decode(&r); err != nil {
			return fmt.Errorf("%s:%d: %w", name, f.Rules[i].Line, err)
		}
		if r.Name == "" || r.Value == "" || r.Low == "" && r.High == "" || r.Question == "" {
			return fmt.Errorf("%s:%d: a rule has a name, a value, a bound and a question", name, f.Rules[i].Line)
		}
		lib.Rules = append(lib.Rules, r)
	}
	return nil
}

func (lib *QuoteLibrary) readWords(file, scope string, n *yaml.Node) error {
	for i := 0; i+1 < len(n.Content); i += 2 {
		w := Word{Name: n.Content[i].Value}
		if err := n.Content[i+1].Decode(&w); err != nil {
			return fmt.Errorf("%s:%d: %w", file, n.Content[i].Line, err)
		}
		lib.Words[scope] = append(lib.Words[scope], w)
	}
	return nil
}

// items are the quantities that a rule becomes: its value, its bounds, which cells of the sheet Quote rules may give, and its effect.
func (r QuoteRule) items() []Item {
	item := func(name, unit, is string, input bool) Item {
		return Item{Name: name, Label: table.Label(name), Unit: unit, Is: is, Input: input, Note: r.What, place: r.Place, Kind: CommonPractice}
	}
	out := []Item{item(r.ValueName(), r.Unit, r.Value, false)}
	if r.Low != "" {
		out = append(out, item(r.LowName(), r.Unit, r.Low, true))
	}
	if r.High != "" {
		out = append(out, item(r.HighName(), r.Unit, r.High, true))
	}
	if r.Effect != "" {
		out = append(out, item(r.EffectName(), "currency", r.Effect, false))
	}
	return out
}

func (lib *QuoteLibrary) template(scope string) *Template {
	if i := slices.IndexFunc(lib.Templates, func(t *Template) bool { return t.Scope == scope }); i >= 0 {
		return lib.Templates[i]
	}
	return nil
}

// quoteScopes are the scopes of a model of quotes, in their order.
var quoteScopes = []string{"case", "scenario", "request", "quote", "quote line"}

// library is the library of a model of quotes: the case as all models have it, and the scopes of quotes.
func (lib *QuoteLibrary) library(of *Library) *Library {
	out := &Library{scopes: quoteScopes, parsed: lib.parsed}
	out.Scopes = append(out.Scopes, &Template{Scope: "scenario", Items: []Item{{Name: "annual_volume", Label: "Annual volume", Unit: "1/yr", Input: true}}})
	facts := &Template{Scope: "case", Items: []Item{
		{Name: "programme_life", Label: "Programme life", Unit: "yr", Input: true},
		{Name: "interest_rate", Label: "Interest rate", Unit: "%/yr", Input: true, compounds: true},
	}}
	if of != nil {
		for _, t := range of.Scopes {
			if t.Scope == "case" {
				facts = t
			}
		}
	}
	out.Scopes = append(append(out.Scopes, facts), lib.Templates...)
	return out
}

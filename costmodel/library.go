package costmodel

import (
	"fmt"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"
	"sync/atomic"

	"go.yaml.in/yaml/v3"

	"piececost/costmodel/table"
)

// A Library holds the definitions of templates/ as text: equations by scope, forms, processes and grades. Nothing in it is
// checked before New, since units need the case's currencies.
type Library struct {
	Scopes    []*Template // equations that every row of a scope has
	Forms     []*Template // of a part's material
	Processes []*Template // of an operation
	Tools     []*Template // kinds of tool
	Sizes     []*Template // by what a machine is sized that is a row of a price relation
	Grades    []*Grade    // known by their designation, by file and in its order

	gradeKeys  map[string]*Grade // by what they are called (gradekey.go)
	named      []*Grade          // those that a case names: of no other is anything in its schema
	quotes     func() (*QuoteLibrary, error)
	scopes     []string  // of a model of quotes; nil for those of a case
	Comparison *Template // of two scenarios
	Benchmark  *Template // of measured parts of others
	Screening  *Template // of a grade and gauge held against a base
	Elements   []Element // of cost, in their order

	parsed *parsedFormulas // shared with copies that take definitions of a workbook in
}

// A Template is one file of definitions.
type Template struct {
	File       string
	Scope      string
	Name       string // of a form or process
	Title      string
	Aliases    []string // other names of a form or process; what is printed is Name
	Group      string   // of a process: its part of DIN 8580
	What       string   // what a process is, in a sentence
	Fits       string   // when a process is the right one
	FitsNot    string   // and when another is
	Caution    string
	Note       string
	noMaterial bool // a form whose parts have no row of Materials
	noRoute    bool // a form whose parts have no operations
	noMachine  bool // a process of another firm, whose operations have no machine
	Example    *Example
	Items      []Item
	Checks     []Check
	cases      []ComparisonCase   // of a comparison
	Verdict    [][]ComparisonCase // of a comparison
	elements   []Element
	defined    table.Place // first definition of a workbook's own
	toolKind   string      // of a process: the kind of tool that it mostly takes
	size       sizeNames   // of a machine's size
	basedOn    string      // another form or process, whose definitions it has but for those of the same name
	based      bool        // a workbook's own, on one of the library, whose name it may well resemble
}

// An Item is the definition of one quantity.
type Item struct {
	Name, Label, Symbol string
	Unit                string   // "flag" for a condition
	Is                  string   // its equation, or the default of an input; empty for an input that must be given
	OnDemand            bool     // reckoned only in rows where another quantity needs it
	Fitted              bool     // of a coefficient: found from past data where nobody says which
	Otherwise           []string // what holds in turn where Is leads to a quantity that is not there, as of a part of another form
	Fact                bool     // of a quote: what the program reads, since the language can't state it
	From                []string // of a fact: the inputs and words of the quote or its lines that it is read from
	Input               bool
	Statistic           Statistic // of a benchmark: what is taken over the measured rows of the quantity that Is names; empty for an equation
	Carries             []string  // of a screening ratio: what, measured in the base, it carries over to the grade and gauge that are tried
	InsteadOf           string    // an input that follows from this one where it is not given itself
	counts              string    // what its ceil counts, where that can be left out: "set-ups"
	compounds           bool      // a rate of return: a rate per month is no twelfth of it
	noLever             bool      // fixed by nature or by the design: not among what is tried to reach a target
	aliases             []string  // other names of it, for headings and expressions
	Options             []string  // of a choice; Is is then a name or one of them
	Possible            Interval  // what a value must lie in, in the item's unit; outside is an error at its cell
	Plausible           []float64 // what a value is expected to lie in; outside is a warning
	Note, Source        string
	Kind                Kind        // where a default or a coefficient of the equation comes from
	Within              float64     // of a grade's value: by about how many percent it may be off; 0 where that is not said
	place               table.Place // where it is defined
}

// A Check is a condition that should hold.
type Check struct {
	Holds string
	Say   string
	Error bool
	Rule  Rule   // what kind of condition it is, where a study asks for it
	Needs string // of a rule: the quantity that must not be more than
	Has   string // this one
	place table.Place
}

// LoadLibrary reads equations/, forms/, processes/ and grades/ of templates. An error names the file and line; a quantity that the
// program asks for by name and that is not there is one (asked.go).
func LoadLibrary(files fs.FS) (*Library, error) {
	lib := &Library{parsed: &parsedFormulas{}, quotes: sync.OnceValues(func() (*QuoteLibrary, error) { return LoadQuotes(files) })}
	for _, dir := range []struct {
		name string
		into *[]*Template
	}{{"equations", &lib.Scopes}, {"forms", &lib.Forms}, {"processes", &lib.Processes}, {"tools", &lib.Tools}, {"machines", &lib.Sizes}} {
		names, err := fs.Glob(files, path.Join(dir.name, "*.yaml"))
		if err != nil {
			return nil, err
		}
		sort.Strings(names)
		list, err := loadTemplates(files, names)
		if err != nil {
			return nil, err
		}
		for _, t := range list {
			switch {
			case t.Scope == comparisonScope:
				lib.Comparison = t
			case t.Scope == benchmarkScope:
				lib.Benchmark = t
			case t.Scope == screeningScope:
				lib.Screening = t
			case t.elements != nil:
				lib.Elements = t.elements
			default:
				*dir.into = append(*dir.into, t)
			}
		}
	}
	for _, list := range [][]*Template{lib.Forms, lib.Processes} {
		for _, t := range list {
			if err := t.takeOver(list); err != nil {
				return nil, err
			}
		}
	}
	lib.spreadElements()
	if err := lib.loadGrades(files); err != nil {
		return nil, err
	}
	if err := lib.complete(); err != nil {
		return nil, err
	}
	return lib, nil
}

// templateFile is the form of a file; quantities and inputs are read node by node to keep their order.
type templateFile struct {
	Size, Rated, Need, Wanted, Least, Largest                                         string
	Scope, Title, Process, Form, Tool, Group, Caution, Note, Material, Route, Machine string
	What, Fits                                                                        string
	FitsNot                                                                           string `yaml:"fits not"`
	BasedOn                                                                           string `yaml:"based on"`
	ToolKind                                                                          string `yaml:"tool kind"`
	Aliases                                                                           []string
	Inputs, Quantities, Elements, Example                                             yaml.Node
	Checks, Cases                                                                     []yaml.Node
	Verdict                                                                           [][]yaml.Node
}

// loadTemplates reads files on all cores, since every command begins with it. The error is that of the first that has one.
func loadTemplates(files fs.FS, names []string) ([]*Template, error) {
	out, faults := make([]*Template, len(names)), make([]error, len(names))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(names)) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(names); i = int(next.Add(1)) - 1 {
				out[i], faults[i] = loadTemplate(files, names[i])
			}
		})
	}
	wg.Wait()
	for _, err := range faults {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

func loadTemplate(files fs.FS, name string) (*Template, error) {
	raw, err := fs.ReadFile(files, name)
	if err != nil {
		return nil, err
	}
	var f templateFile
	d := yaml.NewDecoder(strings.NewReader(string(raw)))
	d.KnownFields(true)
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	t := &Template{File: name, Scope: f.Scope, Title: f.Title, Aliases: f.Aliases, Group: f.Group, What: f.What, Fits: f.Fits,
		FitsNot: f.FitsNot, Caution: f.Caution, Note: f.Note, noMaterial: f.Material == "none", noRoute: f.Route == "none",
		noMachine: f.Machine == "none", basedOn: f.BasedOn, toolKind: f.ToolKind, size: sizeNames{f.Rated, f.Need, f.Wanted, f.Least, f.Largest}}
	switch {
	case f.Process != "":
		t.Scope, t.Name = "operation", f.Process
	case f.Form != "":
		t.Scope, t.Name = "part", f.Form
	case f.Tool != "":
		t.Scope, t.Name = toolKindScope, f.Tool
	case f.Size != "":
		t.Scope, t.Name = machineScope, f.Size
	}
	if t.elements, err = readElements(name, &f.Elements); err != nil {
		return nil, err
	}
	if t.Example, err = readExample(name, &f.Example); err != nil {
		return nil, err
	}
	if err := t.read(&f.Inputs, true); err != nil {
		return nil, err
	}
	if err := t.read(&f.Quantities, false); err != nil {
		return nil, err
	}
	if err := t.readChecks(f.Checks); err != nil {
		return nil, err
	}
	if t.cases, err = readCases(name, f.Cases); err != nil {
		return nil, err
	}
	for i := range f.Verdict {
		part, err := readCases(name, f.Verdict[i])
		if err != nil {
			return nil, err
		}
		t.Verdict = append(t.Verdict, part)
	}
	return t, nil
}

func (t *Template) readChecks(list []yaml.Node) error {
	for i := range list {
		c := Check{place: table.Place{File: t.File, Row: list[i].Line}}
		if err := list[i].Decode(&c); err != nil {
			return fmt.Errorf("%s:%d: %w", t.File, list[i].Line, err)
		}
		t.Checks = append(t.Checks, c)
	}
	return nil
}

// read appends the items of a mapping in its order.
func (t *Template) read(n *yaml.Node, input bool) error {
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, val := n.Content[i], n.Content[i+1]
		item := Item{Name: key.Value, Input: input, place: table.Place{File: t.File, Row: key.Line}}
		for j := 0; j+1 < len(val.Content); j += 2 {
			if err := item.set(val.Content[j].Value, val.Content[j+1]); err != nil {
				return fmt.Errorf("%s:%d: %s: %w", t.File, key.Line, key.Value, err)
			}
		}
		if item.Label == "" {
			item.Label = table.Label(item.Name)
		}
		t.Items = append(t.Items, item)
	}
	return nil
}

// text is the field of an item that is a text as it stands, nil where it is none.
func (it *Item) text(field string) *string {
	switch field {
	case "unit":
		return &it.Unit
	case "is", "default":
		return &it.Is
	case "instead_of":
		return &it.InsteadOf
	case "label":
		return &it.Label
	case "symbol":
		return &it.Symbol
	case "counts":
		return &it.counts
	case "note":
		return &it.Note
	case "source":
		return &it.Source
	}
	return nil
}

func (it *Item) set(field string, v *yaml.Node) error {
	if to := it.text(field); to != nil {
		*to = v.Value
		return nil
	}
	switch field {
	case "otherwise":
		if v.Kind == yaml.ScalarNode {
			it.Otherwise = []string{v.Value}
			return nil
		}
		return v.Decode(&it.Otherwise)
	case "from":
		return v.Decode(&it.From)
	case "carries":
		return v.Decode(&it.Carries)
	case "lever":
		if v.Value != "yes" && v.Value != "no" {
			return fmt.Errorf("lever is yes or no")
		}
		it.noLever = v.Value == "no"
	case "on_demand", "fitted":
		if v.Value != "yes" {
			return fmt.Errorf("%s is yes or left out", field)
		}
		it.OnDemand, it.Fitted = it.OnDemand || field == "on_demand", it.Fitted || field == "fitted"
	case "compounds":
		if v.Value != "yes" {
			return fmt.Errorf("compounds is yes or left out")
		}
		it.compounds = true
	case "aliases":
		return v.Decode(&it.aliases)
	case "kind":
		it.Kind = Kind(v.Value)
		if !slices.Contains(Kinds, it.Kind) {
			return fmt.Errorf("kind is one of %q", Kinds)
		}
	case "statistic":
		it.Statistic = Statistic(v.Value)
		if !slices.Contains(Statistics, it.Statistic) {
			return fmt.Errorf("statistic is one of %q", Statistics)
		}
	case "options":
		return v.Decode(&it.Options)
	case "possible":
		return it.Possible.UnmarshalYAML(v)
	case "plausible":
		if err := v.Decode(&it.Plausible); err != nil || len(it.Plausible) != 2 {
			return fmt.Errorf("plausible is a pair of numbers")
		}
	default:
		return fmt.Errorf("unknown field %q", field)
	}
	return nil
}

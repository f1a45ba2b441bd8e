package costmodel

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"sort"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"piececost/costmodel/table"
)

// A Grade is a material that is known by its designation: what a row of Materials has where its cells are empty. Its values are the
// defaults of inputs of a material, each with where it comes from and how sure it is; a price is never among them.
type Grade struct {
	*Template        // Name is the designation, Aliases its other names and its number; Items are the values
	Family    string // "soft steel sheet, cold rolled"
	Standard  string // that has the designation
	Form      string // in which it is bought
	Verify    string // what to look up before a result rests on the values

	numbers map[string]float64 // of Items, by name, in their units
}

// gradeFile is the form of a file of templates/grades: a family of grades with what they have in common.
type gradeFile struct {
	Family, Form, Standard, Verify string
	Typical                        gradeValue // of what the grades list as typical
	Values, Grades                 yaml.Node
}

// A gradeValue is a value with where it comes from. In a file the number of a grade stands alone, or in a pair, where all else is as
// the list `values` of the file says.
type gradeValue struct {
	Is       gradeNumber // a number or a pair of them, in the unit of the quantity
	LowEndOf string      `yaml:"low end of"` // a quantity whose pair this value is the lower number of
	Kind     Kind
	Within   float64
	Source   string
	Note     string
}

// gradeNumber is a number, or both ends of the range in which a standard wants it.
type gradeNumber []string

// UnmarshalYAML takes a number or a pair.
func (n *gradeNumber) UnmarshalYAML(v *yaml.Node) error {
	list := []*yaml.Node{v}
	if v.Kind == yaml.SequenceNode {
		list = v.Content
	}
	var numbers []float64
	for _, one := range list {
		f, err := strconv.ParseFloat(one.Value, 64)
		if err != nil {
			return fmt.Errorf("%q is no number", one.Value)
		}
		*n, numbers = append(*n, one.Value), append(numbers, f)
	}
	if len(numbers) == 0 || len(numbers) > 2 || len(numbers) == 2 && numbers[0] >= numbers[1] {
		return fmt.Errorf("a value is a number or a rising pair")
	}
	return nil
}

// middle is the number, or that between both.
func (n gradeNumber) middle() float64 {
	sum := 0.0
	for _, text := range n {
		f, _ := strconv.ParseFloat(text, 64) // as it was read
		sum += f
	}
	return sum / float64(len(n))
}

// Number is the value of a quantity in the unit of its item; ok is false where the grade brings none.
func (g *Grade) Number(name string) (v float64, ok bool) {
	v, ok = g.numbers[name]
	return v, ok
}

// loadGrades reads templates/grades; equations must have been read before, since a value is one of an input of a material and stands in
// its unit.
func (lib *Library) loadGrades(files fs.FS) error {
	names, err := fs.Glob(files, path.Join("grades", "*.yaml"))
	if err != nil {
		return err
	}
	sort.Strings(names)
	inputs := map[string]*Item{}
	for _, t := range lib.Scopes {
		for i := range t.Items {
			if it := &t.Items[i]; t.Scope == gradeScope && it.Input {
				inputs[it.Name] = it
			}
		}
	}
	for _, name := range names {
		list, err := loadGradeFile(files, name, inputs)
		if err != nil {
			return err
		}
		lib.Grades = append(lib.Grades, list...)
	}
	lib.gradeKeys, err = gradeKeysOf(lib.Grades)
	return err
}

func loadGradeFile(files fs.FS, name string, inputs map[string]*Item) ([]*Grade, error) {
	raw, err := fs.ReadFile(files, name)
	if err != nil {
		return nil, err
	}
	var f gradeFile
	d := yaml.NewDecoder(strings.NewReader(string(raw)))
	d.KnownFields(true)
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	shared := &gradeReader{file: name, family: &f, inputs: inputs, values: map[string]gradeValue{}}
	if err := shared.readValues(&f.Values); err != nil {
		return nil, err
	}
	var out []*Grade
	for i := 0; i+1 < len(f.Grades.Content); i += 2 {
		g, err := shared.grade(f.Grades.Content[i], f.Grades.Content[i+1])
		if err != nil {
			return nil, err
		}
		out = append(out, g)
	}
	return out, nil
}

// A gradeReader reads the grades of a file.
type gradeReader struct {
	file   string
	family *gradeFile
	inputs map[string]*Item
	order  []string // of the quantities in the list `values`
	values map[string]gradeValue
}

func (r *gradeReader) fault(at *yaml.Node, format string, args ...any) error {
	return fmt.Errorf("%s:%d: %s", r.file, at.Line, fmt.Sprintf(format, args...))
}

// readValues reads what the grades of the file have in common of each value.
func (r *gradeReader) readValues(n *yaml.Node) error {
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		var v gradeValue
		if err := n.Content[i+1].Decode(&v); err != nil {
			return r.fault(key, "%s: %v", key.Value, err)
		}
		if err := r.wellFounded(key, v); err != nil {
			return err
		}
		r.order = append(r.order, key.Value)
		r.values[key.Value] = v
	}
	return nil
}

// wellFounded refuses a value that does not say where it comes from, or one of what no grade can bring.
func (r *gradeReader) wellFounded(at *yaml.Node, v gradeValue) error {
	it := r.inputs[at.Value]
	switch {
	case it == nil:
		return r.fault(at, "%s is no input of a material", at.Value)
	case strings.Contains(it.Unit, "currency"):
		return r.fault(at, "%s is a price, which no grade brings", at.Value)
	case !slices.Contains(Kinds, v.Kind):
		return r.fault(at, "%s: kind is one of %q", at.Value, Kinds)
	case v.Within <= 0:
		return r.fault(at, "%s does not say within how many percent it is sure", at.Value)
	case v.Source == "" && v.Kind != CommonPractice && v.Kind != Placeholder:
		return r.fault(at, "%s is %s and names no source", at.Value, v.Kind)
	}
	return nil
}

// grade reads one grade: its other names, what differs from its family, and its values.
func (r *gradeReader) grade(key, n *yaml.Node) (*Grade, error) {
	g := &Grade{Template: &Template{File: r.file, Scope: gradeScope, Name: key.Value}, Family: r.family.Family, Standard: r.family.Standard,
		Form: r.family.Form, Verify: r.family.Verify, numbers: map[string]float64{}}
	own := map[string]gradeValue{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		field, v := n.Content[i], n.Content[i+1]
		var err error
		switch field.Value {
		case "also":
			err = v.Decode(&g.Aliases)
		case "standard":
			g.Standard = v.Value
		case "form":
			g.Form = v.Value
		case "note":
			g.Note = v.Value
		case "typical":
			err = r.typical(v, own)
		default:
			own[field.Value], err = r.ownValue(field, v)
		}
		if err != nil {
			return nil, err
		}
	}
	for _, name := range r.order {
		it, err := r.item(g, key, name, own)
		if err != nil {
			return nil, err
		}
		if it != nil {
			g.Items = append(g.Items, *it)
		}
	}
	return g, nil
}

// typical reads the values of a grade that no standard states.
func (r *gradeReader) typical(n *yaml.Node, own map[string]gradeValue) error {
	for i := 0; i+1 < len(n.Content); i += 2 {
		at, v := n.Content[i], r.family.Typical
		if err := n.Content[i+1].Decode(&v.Is); err != nil {
			return r.fault(at, "%s: %v", at.Value, err)
		}
		if err := r.wellFounded(at, v); err != nil {
			return err
		}
		if _, ok := r.values[at.Value]; !ok {
			return r.fault(at, "%s does not stand in the list values of the file", at.Value)
		}
		own[at.Value] = v
	}
	return nil
}

// ownValue is a value of a grade: what it does not say itself is as its family has it.
func (r *gradeReader) ownValue(at, n *yaml.Node) (gradeValue, error) {
	v, ok := r.values[at.Value]
	if !ok {
		return v, r.fault(at, "%s does not stand in the list values of the file", at.Value)
	}
	v.Is = nil
	var err error
	if n.Kind == yaml.MappingNode {
		err = n.Decode(&v)
	} else {
		err = n.Decode(&v.Is)
	}
	if err != nil {
		return v, r.fault(at, "%s: %v", at.Value, err)
	}
	return v, r.wellFounded(at, v)
}

// item makes the default of an input of a material of a value; nil where the grade has none.
func (r *gradeReader) item(g *Grade, at *yaml.Node, name string, own map[string]gradeValue) (*Item, error) {
	v, has := own[name]
	if !has {
		v = r.values[name]
	}
	which := ""
	if v.LowEndOf != "" && len(v.Is) == 0 {
		pair := own[v.LowEndOf].Is
		if len(pair) != 2 {
			return nil, nil
		}
		v.Is, which = pair[:1], fmt.Sprintf(", lower end of %s to %s %s", pair[0], pair[1], r.inputs[name].Unit)
	}
	if len(v.Is) == 0 {
		return nil, nil
	}
	of := r.inputs[name]
	it := &Item{Name: name, Label: of.Label, Symbol: of.Symbol, Unit: of.Unit, Input: true, Kind: v.Kind, Within: v.Within, Note: v.Note,
		place: table.Place{File: r.file, Row: at.Line}}
	g.numbers[name] = v.Is.middle()
	it.Is = quantityText(v.Is[0], of.Unit)
	if len(v.Is) == 2 {
		it.Is = fmt.Sprintf("(%s + %s) / 2", it.Is, quantityText(v.Is[1], of.Unit))
		which = fmt.Sprintf(", middle of %s to %s %s", v.Is[0], v.Is[1], of.Unit)
	}
	it.Source = fmt.Sprintf("templates/%s, %s: %s", r.file, g.Name, sourceWords(v, g.Standard, which))
	return it, nil
}

// sourceWords says where a value comes from and by how much it may be off: "EN 10130, lower end of 140 to 210 MPa; from memory, within about 3 %".
func sourceWords(v gradeValue, standard, which string) string {
	if v.Source == "" {
		return fmt.Sprintf("%s, no source%s; within about %v %%", v.Kind, which, v.Within)
	}
	return fmt.Sprintf("%s%s; %s, within about %v %%", strings.ReplaceAll(v.Source, "{standard}", standard), which, v.Kind, v.Within)
}

// quantityText writes a number as an expression has it.
func quantityText(number, unit string) string {
	if unit == "1" {
		return number
	}
	return `"` + number + " " + unit + `"`
}

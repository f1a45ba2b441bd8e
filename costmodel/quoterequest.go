package costmodel

import (
	"strconv"

	"piececost/costmodel/table"
)

// Asked is what a supplier is told of a request: words and numbers of its own column, the part's name and grade. It holds no figure of the
// model.
type Asked struct {
	Facts []AskedFact
}

// An AskedFact is one of them, in a unit; a plain number, a choice and words have none.
type AskedFact struct {
	Name, Label, Unit string
	Text              string
	Number            float64
	IsNumber          bool
}

// Value is the text or the number.
func (f AskedFact) Value() any {
	if f.IsNumber {
		return f.Number
	}
	return f.Text
}

// Of is what was asked for under the name of a quantity, nil where nothing was.
func (a *Asked) Of(name string) any {
	for _, f := range a.Facts {
		if f.Name == name {
			return f.Value()
		}
	}
	return nil
}

// Asked gathers what a supplier is told of the request: what templates/quotes lists for it, as far as the request states it.
func (q *Quotes) Asked() *Asked {
	a := &Asked{}
	for _, name := range q.Library.Form["request"] {
		switch {
		case name == "part":
			a.Facts = append(a.Facts, q.partFacts()...)
		default:
			if f, ok := q.askedFact(name); ok {
				a.Facts = append(a.Facts, f)
			}
		}
	}
	return a
}

func (q *Quotes) askedFact(name string) (AskedFact, bool) {
	f := AskedFact{Name: name, Label: q.Library.Label("request", name)}
	if _, words := q.Library.Word("request", name); words {
		f.Text = q.Request.Text(name)
		return f, f.Text != ""
	}
	if f.Text = q.GivenOption(q.Request, name); f.Text != "" {
		return f, true
	}
	v, ok := q.Given(q.Request, name)
	if !ok {
		return f, false
	}
	it := q.Library.Describe("request", name)
	u, err := q.Model.Schema.Units.Parse(it.Unit)
	if err != nil { // the library was checked when it was loaded
		return f, false
	}
	f.Number, f.IsNumber = shortened(u.Shown(v)), true
	if it.Unit != "1" {
		f.Unit = it.Unit
	}
	return f, true
}

// shortened takes off the last digits, in which the way through coherent units may show.
func shortened(v float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 14, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// partFacts are the key and the name of the part that is asked for, and those of its grade.
func (q *Quotes) partFacts() (out []AskedFact) {
	key := q.Request.Text("part")
	if key == "" {
		return nil
	}
	out = append(out, AskedFact{Name: "part", Label: "Part", Text: key})
	rows := q.Model.byKey["part"][key]
	if len(rows) == 0 {
		return out
	}
	if name := rows[0].Text("name"); name != "" {
		out = append(out, AskedFact{Name: "part_name", Label: "Part name", Text: name})
	}
	grade := rows[0].Text("material")
	if grade == "" {
		return out
	}
	text := grade
	for _, m := range q.Model.byKey["material"][grade] {
		if name := m.Text("name"); name != "" {
			text += ", " + name
		}
	}
	return append(out, AskedFact{Name: "material", Label: table.Label("material"), Text: text})
}

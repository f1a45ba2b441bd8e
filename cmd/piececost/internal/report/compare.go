package report

import (
	"io"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// Comparison is a comparison to be printed.
type Comparison struct {
	*study.Comparison
	Model     *costmodel.Model
	Rules     []study.RuleCosting
	Reversals []study.Reversal
}

func (c *Comparison) name(i int) string { return c.Details[i].Plan.Scenario.Name }

// others lists the scenarios beside the base.
func (c *Comparison) others() []int {
	var out []int
	for i := range c.Details {
		if i != c.Base {
			out = append(out, i)
		}
	}
	return out
}

func (c *Comparison) volumes() study.Row {
	r := study.Row{Key: "annual_volume", Name: "Annual volume", Unit: "1/yr"}
	for _, d := range c.Details {
		r.Values = append(r.Values, d.Volume)
	}
	return r
}

// targetRow is what the scenarios reach of a requirement: by how much each lies above what is asked.
func (c *Comparison) targetRow(row []costmodel.Judgement) study.Row {
	t := row[0].Target
	r := study.Row{Key: t.Name(), Name: "above the target, " + t.Direction() + " asked", Unit: c.Model.ShownUnit(t.Unit)}
	for _, j := range row {
		r.Values = append(r.Values, j.Over)
	}
	return r
}

// CSV prints a line for each row of each table: the scenarios, then what each is above the base.
func (c *Comparison) CSV(w io.Writer) {
	head := []string{"table", "key", "name", "unit"}
	for i := range c.Details {
		head = append(head, c.name(i))
	}
	for _, i := range c.others() {
		head = append(head, c.name(i)+" less "+c.name(c.Base))
	}
	t := newCSV(w, head...)
	defer t.flush()
	line := func(table string, r study.Row) {
		cells := []any{table, r.Key, r.Name, r.Unit}
		for _, v := range r.Values {
			cells = append(cells, v)
		}
		for _, i := range c.others() {
			cells = append(cells, r.Change(i, c.Base))
		}
		t.row(cells...)
	}
	ratio := func(table string, r study.Row) { // what is missing of it is no 0
		cells := []any{table, r.Key, r.Name, r.Unit}
		for _, v := range r.Values {
			cells = append(cells, v)
		}
		for _, i := range c.others() {
			cells = append(cells, r.Values[i]-r.Values[c.Base])
		}
		t.row(cells...)
	}
	line("volume", c.volumes())
	line("cost", c.Costs[0].Total)
	for _, t := range c.Costs {
		for _, r := range t.Rows {
			line(t.By, r)
		}
	}
	for _, r := range c.Measures {
		line("measure", r)
	}
	for _, r := range c.Lines {
		line("lines", r)
	}
	for _, row := range c.Targets {
		line("target", c.targetRow(row))
	}
	for _, v := range c.Benchmarks {
		for _, r := range c.benchmarkRows(v) {
			ratio("benchmarks for the "+v.Name(), r)
		}
	}
	for _, r := range c.Rules {
		line("equipment allocation", study.Row{Key: r.Rule, Name: "Piece cost", Unit: c.Currency, Values: r.Costs})
	}
}

package report

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
)

type compareJSON struct {
	Format        string         `json:"format"`
	Version       int            `json:"version"`
	File          string         `json:"file"`
	Currency      string         `json:"currency"`
	Base          string         `json:"base"`
	Scenarios     []comparedJSON `json:"scenarios"`
	Costs         []costRowsJSON `json:"piece_cost_by"`
	Measures      []rowJSON      `json:"measures"`
	Lines         []rowJSON      `json:"lines"`
	Targets       []targetJSON   `json:"targets"`
	ChargingRules []ruleJSON     `json:"equipment_allocations,omitempty"`
	Reversals     []reversalJSON `json:"ranking_reversals,omitempty"`
	Caution       string         `json:"caution"`
}

// comparedJSON is a scenario; lists by scenario elsewhere are in the same order.
type comparedJSON struct {
	Name         string    `json:"name"`
	AnnualVolume float64   `json:"annual_volume"`
	PieceCost    float64   `json:"piece_cost"`
	Change       float64   `json:"change"`
	Against      *massJSON `json:"against_base,omitempty"`
}

type costRowsJSON struct {
	By   string    `json:"by"`
	Rows []rowJSON `json:"rows"`
}

type rowJSON struct {
	Key     string     `json:"key"`
	Name    string     `json:"name"`
	Unit    string     `json:"unit,omitempty"`
	Values  []*float64 `json:"values"` // by scenario; null where it has no such row
	Changes []float64  `json:"changes"`
}

type targetJSON struct {
	Quantity  string          `json:"quantity"`
	Part      string          `json:"part,omitempty"`
	Unit      string          `json:"unit"`
	Direction string          `json:"direction"`
	Stated    bool            `json:"values_from_the_sheet"`
	Place     placeJSON       `json:"place"`
	Scenarios []judgementJSON `json:"scenarios"`
}

type judgementJSON struct {
	Scenario string   `json:"scenario"`
	Verdict  string   `json:"verdict"`
	Value    *float64 `json:"value"`
	Target   *float64 `json:"target"`
	Above    *float64 `json:"above"`
	Share    *float64 `json:"share"`
}

type ruleJSON struct {
	Rule      string    `json:"equipment_allocation"`
	PieceCost []float64 `json:"piece_cost"`
	Rank      []int     `json:"rank"`
}

type reversalJSON struct {
	First  string `json:"first"`
	Second string `json:"second"`
	Words  string `json:"words"`
}

// JSON is the comparison with all of its tables.
func (c *Comparison) JSON() compareJSON {
	out := compareJSON{Format: "piececost compare", Version: 1, File: c.Model.Case.File, Currency: c.Currency, Base: c.name(c.Base), Caution: Caution,
		Measures: c.rowsJSON(c.Measures), Lines: c.rowsJSON(c.Lines), Targets: []targetJSON{}}
	total := c.Costs[0].Total
	for i, d := range c.Details {
		s := comparedJSON{Name: c.name(i), AnnualVolume: d.Volume, PieceCost: total.Values[i], Change: total.Change(i, c.Base)}
		if i != c.Base {
			s.Against = massOf(&c.Mass[i])
		}
		out.Scenarios = append(out.Scenarios, s)
	}
	for _, t := range c.Costs {
		out.Costs = append(out.Costs, costRowsJSON{t.By, c.rowsJSON(t.Rows)})
	}
	for _, row := range c.Targets {
		out.Targets = append(out.Targets, c.targetJSON(row))
	}
	for _, r := range c.Rules {
		out.ChargingRules = append(out.ChargingRules, ruleJSON{r.Rule, r.Costs, r.Rank})
	}
	for _, r := range c.Reversals {
		out.Reversals = append(out.Reversals, reversalJSON{c.name(r.First), c.name(r.Second), r.Words})
	}
	return out
}

func (c *Comparison) rowsJSON(rows []study.Row) []rowJSON {
	out := []rowJSON{}
	for _, r := range rows {
		j := rowJSON{Key: r.Key, Name: r.Name, Unit: r.Unit}
		for i, v := range r.Values {
			j.Values = append(j.Values, finite(v))
			j.Changes = append(j.Changes, r.Change(i, c.Base))
		}
		out = append(out, j)
	}
	return out
}

func (c *Comparison) targetJSON(row []costmodel.Judgement) targetJSON {
	t := row[0].Target
	out := targetJSON{Quantity: t.Label, Part: t.Part, Unit: c.Model.ShownUnit(t.Unit), Direction: t.Direction(), Stated: t.Stated, Place: placeOf(t.Place)}
	for i, j := range row {
		out.Scenarios = append(out.Scenarios, judgementJSON{c.name(i), string(j.Verdict), finite(j.Value), finite(j.Wanted), finite(j.Over), finite(j.Share)})
	}
	return out
}

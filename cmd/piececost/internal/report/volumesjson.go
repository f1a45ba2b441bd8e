package report

import "piececost/costmodel/study"

type volumesJSON struct {
	Format    string           `json:"format"`
	Version   int              `json:"version"`
	File      string           `json:"file"`
	Currency  string           `json:"currency"`
	Within    float64          `json:"within_percent"`
	Scenarios []volumeViewJSON `json:"scenarios"`
	Caution   string           `json:"caution"`
}

type volumeViewJSON struct {
	Scenario string            `json:"scenario"`
	Volumes  []volumePointJSON `json:"volumes"`
	Pools    []poolJSON        `json:"pool_warnings"`
}

type volumePointJSON struct {
	AnnualVolume float64       `json:"annual_volume"`
	PieceCost    float64       `json:"piece_cost"`
	AnnualCost   float64       `json:"annual_cost"`
	NextPiece    float64       `json:"next_piece"`
	Jumps        []jumpJSON    `json:"next_piece_raises"`
	OwnLines     float64       `json:"product_specific_lines"`
	OwnLoad      *float64      `json:"capacity_utilisation"`
	SharedLines  float64       `json:"shared_lines"`
	People       *float64      `json:"people"`
	ToolSets     float64       `json:"tool_sets"`
	Floor        float64       `json:"floor_area_m2"`
	Equipment    float64       `json:"equipment_investment"`
	Tooling      float64       `json:"tooling_investment"`
	Machines     []machineJSON `json:"machines"`
	Less         installedJSON `json:"less"`
	More         installedJSON `json:"more"`
	Shifts       []shiftJSON   `json:"shifts"`
}

type jumpJSON struct {
	Row   string  `json:"row"`
	Count string  `json:"count"`
	From  float64 `json:"from"`
	To    float64 `json:"to"`
}

type machineJSON struct {
	Machine    string  `json:"machine"`
	Name       string  `json:"name"`
	OwnLines   float64 `json:"product_specific_lines"`
	Shared     float64 `json:"shared_lines"`
	Needed     float64 `json:"lines_filled"`
	Load       float64 `json:"capacity_utilisation"`
	CrewShifts float64 `json:"crew_shifts"`
}

type installedJSON struct {
	AnnualVolume float64        `json:"annual_volume"`
	PieceCost    float64        `json:"piece_cost"`
	AnnualCost   float64        `json:"annual_cost"`
	Possible     bool           `json:"possible"`
	Shortages    []shortageJSON `json:"shortages"`
}

type shortageJSON struct {
	Row    string  `json:"row"`
	Kind   string  `json:"kind"`
	Needed float64 `json:"required value"`
	Has    float64 `json:"installed"`
	Words  string  `json:"words"`
}

type shiftJSON struct {
	Shifts     float64  `json:"shifts"`
	Given      bool     `json:"given"`
	Cheapest   bool     `json:"cheapest"`
	Possible   bool     `json:"possible"`
	PieceCost  float64  `json:"piece_cost"`
	OwnLines   float64  `json:"product_specific_lines"`
	Investment float64  `json:"investment"`
	Reasons    []string `json:"reasons,omitempty"`
	Crowded    []string `json:"shared_lines_filled,omitempty"`
}

type poolJSON struct {
	Machine string   `json:"machine"`
	Kind    string   `json:"kind"`
	Steps   []string `json:"operations,omitempty"`
	Words   string   `json:"words"`
	From    float64  `json:"from_annual_volume"`
	To      float64  `json:"to_annual_volume"`
	Source  string   `json:"source"`
}

// JSON is the views with everything in them.
func (v *Volumes) JSON() volumesJSON {
	out := volumesJSON{Format: "piececost volumes", Version: 1, File: v.File, Currency: v.Currency, Within: v.Share, Caution: Caution}
	for _, view := range v.Views {
		j := volumeViewJSON{Scenario: view.Scenario, Pools: []poolJSON{}}
		for _, p := range view.Points {
			j.Volumes = append(j.Volumes, pointJSON(p))
		}
		for _, a := range view.Pools {
			j.Pools = append(j.Pools, poolJSON{a.Machine, a.Kind, a.Steps, a.Words, a.From, a.To, "common practice, no source"})
		}
		out.Scenarios = append(out.Scenarios, j)
	}
	return out
}

func pointJSON(p study.VolumePoint) volumePointJSON {
	c := p.Capacity
	out := volumePointJSON{AnnualVolume: p.Volume, PieceCost: p.Cost, AnnualCost: p.Annual, NextPiece: p.Next, Jumps: []jumpJSON{},
		OwnLines: c.OwnLines, OwnLoad: finite(c.Load), SharedLines: c.SharedLines, People: finite(c.People), ToolSets: c.ToolSets, Floor: c.Floor,
		Equipment: p.Own, Tooling: p.Tooling, Less: installedOf(p.Less), More: installedOf(p.More)}
	for _, j := range p.Jumps {
		out.Jumps = append(out.Jumps, jumpJSON(j))
	}
	for _, m := range c.Machines {
		out.Machines = append(out.Machines, machineJSON{m.Key, m.Name, m.Own, m.Shared, m.Needed, m.Load, m.CrewShifts})
	}
	for i, o := range p.Shifts {
		out.Shifts = append(out.Shifts, shiftJSON{o.Shifts, o.Given, i == p.Cheapest, o.Possible, o.PieceCost, o.OwnLines, o.Investment, o.Reasons, o.Crowded})
	}
	return out
}

func installedOf(i study.Installed) installedJSON {
	out := installedJSON{AnnualVolume: i.Volume, PieceCost: i.PieceCost, AnnualCost: i.AnnualCost, Possible: i.Possible(), Shortages: []shortageJSON{}}
	for _, s := range i.Shortages {
		out.Shortages = append(out.Shortages, shortageJSON{s.Row, s.Kind, s.Needed, s.Has, s.String()})
	}
	return out
}

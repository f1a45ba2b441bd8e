package report

import (
	"piececost/costmodel/study"
	"piececost/scenarios/costing/wire"
)

// JSON is the views with everything in them.
func (v *Volumes) JSON() wire.Volumes {
	out := wire.Volumes{Answer: wire.Begin[wire.Volumes](), File: v.File, Currency: v.Currency, Within: v.Share, Caution: wire.Caution}
	for _, view := range v.Views {
		j := wire.VolumeView{Scenario: view.Scenario, Pools: []wire.PoolWarning{}}
		for _, p := range view.Points {
			j.Volumes = append(j.Volumes, pointJSON(p))
		}
		for _, a := range view.Pools {
			j.Pools = append(j.Pools, wire.PoolWarning{Machine: a.Machine, Kind: a.Kind, Steps: a.Steps,
				Words: a.Words, From: a.From, To: a.To, Source: "common practice, no source"})
		}
		out.Scenarios = append(out.Scenarios, j)
	}
	return out
}

func pointJSON(p study.VolumePoint) wire.VolumePoint {
	c := p.Capacity
	out := wire.VolumePoint{AnnualVolume: p.Volume, PieceCost: p.Cost, AnnualCost: p.Annual, NextPiece: p.Next, Jumps: []wire.Jump{},
		OwnLines: c.OwnLines, OwnLoad: finite(c.Load), SharedLines: c.SharedLines, People: finite(c.People), ToolSets: c.ToolSets, Floor: c.Floor,
		Equipment: p.Own, Tooling: p.Tooling, Machines: []wire.Machine{}, Less: installedOf(p.Less), More: installedOf(p.More)}
	for _, j := range p.Jumps {
		out.Jumps = append(out.Jumps, wire.Jump(j))
	}
	for _, m := range c.Machines {
		out.Machines = append(out.Machines, wire.Machine{Machine: m.Key, Name: m.Name, OwnLines: m.Own, Shared: m.Shared, Needed: m.Needed,
			Load: m.Load, CrewShifts: m.CrewShifts})
	}
	for i, o := range p.Shifts {
		out.Shifts = append(out.Shifts, wire.Shift{Shifts: o.Shifts, Given: o.Given, Cheapest: i == p.Cheapest, Possible: o.Possible, PieceCost: o.PieceCost,
			OwnLines: o.OwnLines, Investment: o.Investment, Reasons: o.Reasons, Crowded: o.Crowded})
	}
	return out
}

func installedOf(i study.Installed) wire.Installed {
	out := wire.Installed{AnnualVolume: i.Volume, PieceCost: i.PieceCost, AnnualCost: i.AnnualCost, Possible: i.Possible(), Shortages: []wire.Shortage{}}
	for _, s := range i.Shortages {
		out.Shortages = append(out.Shortages, wire.Shortage{Row: s.Row, Kind: s.Kind, Needed: s.Needed, Has: s.Has, Words: s.String()})
	}
	return out
}

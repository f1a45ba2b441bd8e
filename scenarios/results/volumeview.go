package results

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// volumeView writes for every scenario what each volume takes, what the next piece costs, the cost on the installed
// capacity, and the cheapest number of shifts.
func (b *writer) volumeView() error {
	if b.result.Volumes == nil {
		return nil
	}
	p, err := b.Page(VolumeSheet, "Capacity and investment at each annual volume")
	if err != nil {
		return err
	}
	b.staleMark(p)
	row := 6
	for i, v := range b.result.Volumes.Views {
		if i > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		start := row
		b.band(p, row, scenarioTitle(v.Scenario), volumeColumns)
		row = b.volumeCapacity(p, row+1, v)
		row = b.volumeMachines(p, row+1, v)
		head := row + 1
		row = b.volumeCost(p, head, v)
		row = b.volumeNotes(p, row, v) + 1
		if len(v.Points) > 1 {
			if p.Points(start, row)+chartPoints > portraitPoints {
				p.Breaks = append(p.Breaks, head) // the chart stays with its values
			}
			p.Charts[fmt.Sprintf("A%d", row+1)] = b.volumeChart(v.Scenario, head+1, head+len(v.Points))
			row += 1 + chartRows
		}
	}
	p.Widths[1] = 28
	for c := 2; c <= volumeColumns; c++ {
		p.Widths[c] = 13
	}
	p.Titles = 4
	return p.Flush()
}

// scenarioTitle is a scenario's name with the word before it, where the name does not begin with it.
func scenarioTitle(name string) string {
	if strings.HasPrefix(strings.ToLower(name), "scenario") {
		return name
	}
	return "Scenario " + name
}

// portraitPoints are the heights that fit an upright page of the sheet below its repeated titles, and chartPoints what a chart
// takes of it: measured on A4.
const (
	portraitPoints = 1185
	chartPoints    = 315
)

// volumeCapacity writes lines, load, people, tools, area and investment.
func (b *writer) volumeCapacity(p *sheet.Page, row int, v *study.VolumeView) int {
	c := b.currency()
	p.Heading(row, 0, "Annual volume [1/yr]", "Product-specific lines", "Capacity utilisation", "Shared lines",
		"Direct workers", "Tool sets", "Floor space [m2]",
		"Product-specific equipment ["+c+"]", "Tooling ["+c+"]", "Annual cost ["+c+"/yr]", "Busiest product-specific machine")
	p.Heights[row] = 56
	for _, x := range v.Points {
		row++
		u := x.Capacity
		for i, cell := range []struct {
			value  float64
			format string
		}{{x.Volume, volumeFormat(x.Volume)}, {u.OwnLines, "#,##0"}, {u.Load, "0%"}, {u.SharedLines, "#,##0.00"}, {u.People, "#,##0.0"},
			{u.ToolSets, "#,##0"}, {u.Floor, "#,##0"}, {x.Own, "#,##0"}, {x.Tooling, "#,##0"}, {x.Annual, "#,##0"}} {
			b.number(p, row, 1+i, cell.value, sheet.Look{Kind: "number", Format: cell.format})
		}
		b.busiestMachine(p, row, &u)
	}
	return row + 1
}

// volumeCost writes the cost of a piece, of the next one, on the installed capacity and with the cheapest shifts.
func (b *writer) volumeCost(p *sheet.Page, row int, v *study.VolumeView) int {
	c, share := b.currency(), costmodel.ShownNumber(100*b.result.Volumes.Share)
	p.Heading(row, 0, "Annual volume [1/yr]", "Piece cost ["+c+"]", "Marginal cost ["+c+"]", "Triggers a capacity step",
		"Piece cost at -"+share+" %, installed ["+c+"]", "Piece cost at +"+share+" %, installed ["+c+"]", "Installed capacity sufficient at +"+share+" %?",
		"Cheapest shifts per day", "Piece cost with these shifts ["+c+"]", "Product-specific lines with these shifts")
	p.Heights[row] = 56
	money := sheet.Look{Kind: "number", Format: b.money()}
	for i := range v.Points {
		x := &v.Points[i]
		row++
		p.Set(row, 1, x.Volume, sheet.Look{Kind: "number", Format: volumeFormat(x.Volume)})
		b.number(p, row, 2, x.Cost, money)
		b.number(p, row, 3, x.Next, money)
		p.Set(row, 4, yesNo(len(x.Jumps) > 0), sheet.Look{Kind: "label", Right: true})
		b.number(p, row, 5, x.Less.PieceCost, money)
		b.number(p, row, 6, x.More.PieceCost, money)
		p.Set(row, 7, yesNo(x.More.Possible()), sheet.Look{Kind: "label", Right: true})
		b.cheapestShifts(p, row, x)
	}
	return row + 1
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

func (b *writer) cheapestShifts(p *sheet.Page, row int, x *study.VolumePoint) {
	if x.Cheapest < 0 {
		for c := 8; c <= 10; c++ {
			p.Set(row, c, "–", sheet.Look{Kind: "label", Right: true})
		}
		return
	}
	o := x.Shifts[x.Cheapest]
	p.Set(row, 8, o.Shifts, sheet.Look{Kind: "number", Format: "0.##"})
	b.number(p, row, 9, o.PieceCost, sheet.Look{Kind: "number", Format: b.money()})
	b.number(p, row, 10, o.OwnLines, sheet.Look{Kind: "number", Format: "#,##0"})
}

// volumeNotes writes below the tables what the next piece calls for, what is short, and which steps may not share a station.
func (b *writer) volumeNotes(p *sheet.Page, row int, v *study.VolumeView) int {
	note := func(text string) {
		for i, line := range sheet.BrokenLines(text, 135) {
			if i > 0 {
				line = "      " + line
			}
			p.Set(row, 1, line, sheet.Look{Kind: "faint"})
			row++
		}
	}
	for i := range v.Points {
		x := &v.Points[i]
		if len(x.Jumps) > 0 {
			note(fmt.Sprintf("%s, the next piece triggers: %s", volumeText(x.Volume), study.JumpWords(x.Jumps)))
		}
	}
	for i := range v.Points {
		x := &v.Points[i]
		if !x.More.Possible() {
			note(fmt.Sprintf("%s, the installed capacity can't make %s, the cost is as if it could: %s", volumeText(x.Volume),
				volumeText(x.More.Volume), study.ShortWords(x.More.Shortages)))
		}
	}
	for _, a := range v.Pools {
		note(fmt.Sprintf("Pooled operations that may not share a station, %s to %s: %s %s (common practice, no source)", volumeText(a.From),
			volumeText(a.To), a.Machine, a.Words))
	}
	return row
}

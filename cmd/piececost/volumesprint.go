package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// print prints every scenario's tables and findings.
func (v *volumesReport) print(w io.Writer) {
	for i, view := range v.views {
		if i > 0 {
			fmt.Fprintln(w)
		}
		printWrapped(w, "", "  ", scenarioTitle(view.Scenario))
		fmt.Fprintln(w)
		v.printCapacity(w, view)
		fmt.Fprintln(w)
		v.printCost(w, view)
		fmt.Fprintln(w)
		v.printShifts(w, view)
		v.printPools(w, view)
	}
	fmt.Fprintln(w)
}

// printCapacity prints a row for each volume. Keys of machines are as long as they like: where the column of the busiest one
// would make the table too wide, it is a list below.
func (v *volumesReport) printCapacity(w io.Writer, view *study.VolumeView) {
	t := v.capacityTable(view, true)
	if _, total := t.widths(); total <= terminalWidth {
		t.print(w)
		return
	}
	v.capacityTable(view, false).print(w)
	fmt.Fprintln(w, "Busiest own machine and its load:")
	for _, p := range view.Points {
		if words := busiestWords(p, " "); words != "" {
			printWrapped(w, "  ", "    ", shownVolume(p.Volume)+": "+words+" %")
		}
	}
}

// busiestWords names the busiest own machine and its load in percent.
func busiestWords(p study.VolumePoint, between string) string {
	u, ok := p.Capacity.Busiest()
	if !ok {
		return ""
	}
	return u.Key + between + grouped(100*u.Load, 1)
}

func (v *volumesReport) capacityTable(view *study.VolumeView, busiest bool) *table {
	t := &table{}
	add := func(cells ...string) {
		if !busiest {
			cells = append(cells[:3:3], cells[4:]...)
		}
		t.add(cells...)
	}
	add("Volume", "Own", "Load", "Busiest", "Shared", "Direct", "Tool", "Equipment", "Tooling")
	add("[1/yr]", "lines", "[%]", "own [%]", "lines", "workers", "sets", "["+v.currency+"]", "["+v.currency+"]")
	t.line()
	for _, p := range view.Points {
		c := p.Capacity
		load := ""
		if !math.IsNaN(c.Load) {
			load = grouped(100*c.Load, 0)
		}
		add(shownVolume(p.Volume), grouped(c.OwnLines, 0), load, busiestWords(p, " "), grouped(c.SharedLines, 2), figured(c.People, 1), grouped(c.ToolSets, 0), grouped(p.Own, 0), grouped(p.Tooling, 0))
	}
	return t
}

func (v *volumesReport) digits(view *study.VolumeView) int {
	digits := 0
	for _, p := range view.Points {
		digits = max(digits, int(costmodel.MoneyDigits(v.currency, p.Cost)))
	}
	return digits
}

// printCost prints the cost of a piece, of the next one, and with the installed capacity at other volumes.
func (v *volumesReport) printCost(w io.Writer, view *study.VolumeView) {
	digits := v.digits(view)
	t := &table{}
	t.add("Annual volume", "Piece cost ", "Next piece ", fmt.Sprintf("At -%g %% ", v.share), fmt.Sprintf("At +%g %% ", v.share))
	t.add("[1/yr]", "["+v.currency+"] ", "["+v.currency+"] ", "installed ", "installed ")
	t.line()
	jumps, short := false, false
	for _, p := range view.Points {
		next, more := " ", " "
		if len(p.Jumps) > 0 {
			next, jumps = "+", true
		}
		if !p.More.Possible() {
			more, short = "!", true
		}
		t.add(shownVolume(p.Volume), grouped(p.Cost, digits)+" ", grouped(p.Next, digits)+next, grouped(p.Less.PieceCost, digits)+" ", grouped(p.More.PieceCost, digits)+more)
	}
	t.print(w)
	if jumps {
		printWrapped(w, "", "  ", "+ the next piece calls for something whole:")
		for _, p := range view.Points {
			if len(p.Jumps) > 0 {
				printWrapped(w, "  ", "    ", shownVolume(p.Volume)+": "+study.JumpWords(p.Jumps))
			}
		}
	}
	if short {
		printWrapped(w, "", "  ", fmt.Sprintf("! the installed capacity can't make %g %% more; the cost is as if it could:", v.share))
		for _, p := range view.Points {
			if !p.More.Possible() {
				printWrapped(w, "  ", "    ", shownVolume(p.Volume)+": "+study.ShortWords(p.More.Shortages))
			}
		}
	}
}

// printShifts prints the piece cost by shifts a day with the own lines that they call for.
func (v *volumesReport) printShifts(w io.Writer, view *study.VolumeView) {
	digits := v.digits(view)
	fmt.Fprintf(w, "Piece cost [%s] by shifts a day, own lines in brackets, * the cheapest\n", v.currency)
	b := blocks{}
	for _, p := range view.Points {
		b.labels = append(b.labels, shownVolume(p.Volume))
	}
	for i, o := range view.Points[0].Shifts {
		head := fmt.Sprintf("%g %s", o.Shifts, wordShifts(o.Shifts))
		if o.Given {
			head += " (given)"
		}
		col := column{head: head}
		for _, p := range view.Points {
			col.cells = append(col.cells, shiftCell(p, i, digits))
		}
		b.groups = append(b.groups, []column{col})
	}
	b.print(w)
	v.printReasons(w, view)
}

func wordShifts(n float64) string {
	if n == 1 {
		return "shift"
	}
	return "shifts"
}

func shiftCell(p study.VolumePoint, i, digits int) string {
	o := p.Shifts[i]
	if !o.Possible {
		return "not possible  "
	}
	mark := "  "
	if i == p.Cheapest {
		mark = " *"
	}
	return fmt.Sprintf("%s (%.0f)%s", grouped(o.PieceCost, digits), o.OwnLines, mark)
}

// printReasons says why a number of shifts is not possible, or doubtful, each reason with the volumes that it holds at.
func (v *volumesReport) printReasons(w io.Writer, view *study.VolumeView) {
	for i, o := range view.Points[0].Shifts {
		var order []string
		at := map[string][]string{}
		for _, p := range view.Points {
			for _, r := range p.Shifts[i].Reasons {
				if at[r] == nil {
					order = append(order, r)
				}
				at[r] = append(at[r], shownVolume(p.Volume))
			}
		}
		for _, r := range order {
			where := "at " + strings.Join(at[r], "; ")
			if len(at[r]) == len(view.Points) {
				where = "at every volume"
			}
			printWrapped(w, "", "  ", fmt.Sprintf("%g %s: %s %s", o.Shifts, wordShifts(o.Shifts), r, where))
		}
		if crowded := crowdedWords(view, i); crowded != "" {
			printWrapped(w, "", "  ", fmt.Sprintf("%g %s: one shared line is not enough for this product alone: %s", o.Shifts, wordShifts(o.Shifts), crowded))
		}
	}
}

// crowdedWords names the shared machines that a number of shifts fills, each with the first volume at which it does.
func crowdedWords(view *study.VolumeView, i int) string {
	seen := map[string]bool{}
	var out []string
	for _, p := range view.Points {
		for _, m := range p.Shifts[i].Crowded {
			if !seen[m] {
				seen[m] = true
				out = append(out, m+" from "+shownVolume(p.Volume))
			}
		}
	}
	return strings.Join(out, "; ")
}

// seenAt says at which of the volumes an alert holds.
func seenAt(a study.PoolAlert) string {
	if a.From == a.To {
		return "at " + shownVolume(a.From)
	}
	return "at " + shownVolume(a.From) + " to " + shownVolume(a.To)
}

func (v *volumesReport) printPools(w io.Writer, view *study.VolumeView) {
	if len(view.Pools) == 0 {
		return
	}
	fmt.Fprintln(w, "\nPooled steps that may not share a station (common practice, no source)")
	for _, a := range view.Pools {
		printWrapped(w, "  ", "    ", fmt.Sprintf("%s: %s (%s)", a.Machine, a.Words, seenAt(a)))
	}
}

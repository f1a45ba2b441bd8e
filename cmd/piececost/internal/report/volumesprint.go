package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// Print prints every scenario's tables and findings.
func (v *Volumes) Print(w io.Writer) {
	for i, view := range v.Views {
		if i > 0 {
			fmt.Fprintln(w)
		}
		term.Wrap(w, "", "  ", ScenarioTitle(view.Scenario))
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

// capacityWords explains the short headings of the capacity table.
const capacityWords = "Spec. lines are product-specific; Util. is their capacity utilisation"

// printCapacity prints a row for each volume. Keys of machines are as long as they like: where the column of the busiest one
// would make the table too wide, it is a list below.
func (v *Volumes) printCapacity(w io.Writer, view *study.VolumeView) {
	t := v.capacityTable(view, true)
	if _, total := t.Widths(); total <= term.Columns(w) {
		t.Print(w)
		fmt.Fprintln(w, capacityWords)
		return
	}
	v.capacityTable(view, false).Print(w)
	fmt.Fprintln(w, capacityWords)
	fmt.Fprintln(w, "Busiest product-specific machine and its capacity utilisation:")
	for _, p := range view.Points {
		if words := busiestWords(p, " "); words != "" {
			term.Wrap(w, "  ", "    ", term.Volume(p.Volume)+": "+words+" %")
		}
	}
}

// busiestWords names the busiest product-specific machine and its load in percent.
func busiestWords(p study.VolumePoint, between string) string {
	u, ok := p.Capacity.Busiest()
	if !ok {
		return ""
	}
	return u.Key + between + term.Grouped(100*u.Load, 1)
}

func (v *Volumes) capacityTable(view *study.VolumeView, busiest bool) *term.Table {
	t := &term.Table{}
	add := func(cells ...string) {
		if !busiest {
			cells = append(cells[:3:3], cells[4:]...)
		}
		t.Add(cells...)
	}
	add("Volume", "Spec.", "Util.", "Busiest", "Shared", "Direct", "Tool", "Equipment", "Tooling")
	add("[1/yr]", "lines", "[%]", "[%]", "lines", "workers", "sets", "["+v.Currency+"]", "["+v.Currency+"]")
	t.Line()
	for _, p := range view.Points {
		c := p.Capacity
		load := ""
		if !math.IsNaN(c.Load) {
			load = term.Grouped(100*c.Load, 0)
		}
		add(term.Volume(p.Volume), term.Grouped(c.OwnLines, 0), load, busiestWords(p, " "), term.Grouped(c.SharedLines, 2), term.Figured(c.People, 1),
			term.Grouped(c.ToolSets, 0), term.Grouped(p.Own, 0), term.Grouped(p.Tooling, 0))
	}
	return t
}

func (v *Volumes) digits(view *study.VolumeView) int {
	digits := 0
	for _, p := range view.Points {
		digits = max(digits, int(costmodel.MoneyDigits(v.Currency, p.Cost)))
	}
	return digits
}

// printCost prints the cost of a piece, of the next one, and with the installed capacity at other volumes.
func (v *Volumes) printCost(w io.Writer, view *study.VolumeView) {
	digits := v.digits(view)
	t := &term.Table{}
	t.Add("Annual volume", "Piece cost ", "Marginal cost ", fmt.Sprintf("At -%g %% ", v.Share), fmt.Sprintf("At +%g %% ", v.Share))
	t.Add("[1/yr]", "["+v.Currency+"] ", "["+v.Currency+"] ", "installed ", "installed ")
	t.Line()
	jumps, short := false, false
	for _, p := range view.Points {
		next, more := " ", " "
		if len(p.Jumps) > 0 {
			next, jumps = "+", true
		}
		if !p.More.Possible() {
			more, short = "!", true
		}
		t.Add(term.Volume(p.Volume), term.Grouped(p.Cost, digits)+" ", term.Grouped(p.Next, digits)+next, term.Grouped(p.Less.PieceCost, digits)+" ",
			term.Grouped(p.More.PieceCost, digits)+more)
	}
	t.Print(w)
	if jumps {
		term.Wrap(w, "", "  ", "+ the next piece triggers a capacity step:")
		for _, p := range view.Points {
			if len(p.Jumps) > 0 {
				term.Wrap(w, "  ", "    ", term.Volume(p.Volume)+": "+study.JumpWords(p.Jumps))
			}
		}
	}
	if short {
		term.Wrap(w, "", "  ", fmt.Sprintf("! the installed capacity can't make %g %% more; the cost is as if it could:", v.Share))
		for _, p := range view.Points {
			if !p.More.Possible() {
				term.Wrap(w, "  ", "    ", term.Volume(p.Volume)+": "+study.ShortWords(p.More.Shortages))
			}
		}
	}
}

// printShifts prints the piece cost by shifts per day with the product-specific lines that they call for.
func (v *Volumes) printShifts(w io.Writer, view *study.VolumeView) {
	digits := v.digits(view)
	term.Wrap(w, "", "", fmt.Sprintf("Piece cost [%s] by shifts per day, product-specific lines in brackets, * the cheapest", v.Currency))
	b := term.Blocks{}
	for _, p := range view.Points {
		b.Labels = append(b.Labels, term.Volume(p.Volume))
	}
	for i, o := range view.Points[0].Shifts {
		head := fmt.Sprintf("%g %s", o.Shifts, wordShifts(o.Shifts))
		if o.Given {
			head += " (given)"
		}
		col := term.Column{Head: head}
		for _, p := range view.Points {
			col.Cells = append(col.Cells, shiftCell(p, i, digits))
		}
		b.Groups = append(b.Groups, []term.Column{col})
	}
	b.Print(w)
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
	return fmt.Sprintf("%s (%.0f)%s", term.Grouped(o.PieceCost, digits), o.OwnLines, mark)
}

// printReasons says why a number of shifts is not possible, or doubtful, each reason with the volumes that it holds at.
func (v *Volumes) printReasons(w io.Writer, view *study.VolumeView) {
	for i, o := range view.Points[0].Shifts {
		var order []string
		at := map[string][]string{}
		for _, p := range view.Points {
			for _, r := range p.Shifts[i].Reasons {
				if at[r] == nil {
					order = append(order, r)
				}
				at[r] = append(at[r], term.Volume(p.Volume))
			}
		}
		for _, r := range order {
			where := "at " + strings.Join(at[r], "; ")
			if len(at[r]) == len(view.Points) {
				where = "at every volume"
			}
			term.Wrap(w, "", "  ", fmt.Sprintf("%g %s: %s %s", o.Shifts, wordShifts(o.Shifts), r, where))
		}
		if crowded := crowdedWords(view, i); crowded != "" {
			term.Wrap(w, "", "  ", fmt.Sprintf("%g %s: one shared line is not enough for this product alone: %s", o.Shifts, wordShifts(o.Shifts), crowded))
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
				out = append(out, m+" from "+term.Volume(p.Volume))
			}
		}
	}
	return strings.Join(out, "; ")
}

// seenAt says at which of the volumes an alert holds.
func seenAt(a study.PoolAlert) string {
	if a.From == a.To {
		return "at " + term.Volume(a.From)
	}
	return "at " + term.Volume(a.From) + " to " + term.Volume(a.To)
}

func (v *Volumes) printPools(w io.Writer, view *study.VolumeView) {
	if len(view.Pools) == 0 {
		return
	}
	fmt.Fprintln(w, "\nPooled operations that may not share a station (common practice, no source)")
	for _, a := range view.Pools {
		term.Wrap(w, "  ", "    ", fmt.Sprintf("%s: %s (%s)", a.Machine, a.Words, seenAt(a)))
	}
}

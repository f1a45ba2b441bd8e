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

// Print prints the comparison for a terminal.
func (c *Comparison) Print(w io.Writer, by string) {
	t := c.Table(by)
	digits := 0
	for _, v := range t.Total.Values {
		digits = max(digits, int(costmodel.MoneyDigits(c.Currency, v)))
	}
	term.Wrap(w, "", "  ", fmt.Sprintf("%s per good piece by %s, with the change to %s", c.Currency, by, c.name(c.Base)))
	s := c.sideBySide()
	s.add("Annual volume [1/yr]", c.volumes(), 0)
	for _, r := range t.Rows {
		label := r.Name
		if by != "element" {
			label = strings.TrimSpace(r.Key + " " + r.Name)
			if r.Key == r.Name {
				label = r.Key
			}
		}
		s.add(label, r, digits)
	}
	s.Line()
	s.add("Piece cost", t.Total, digits)
	s.Print(w)

	fmt.Fprintln(w, "\nMass, investment and capacity")
	s = c.sideBySide()
	for _, r := range c.Measures {
		s.add(withUnit(r), r, decimalsOf(r.Key, digits))
	}
	s.Print(w)

	fmt.Fprintln(w, "\nLines charged, of shared machines a share")
	s = c.sideBySide()
	for _, r := range c.Lines {
		s.add(r.Key+" "+r.Name, r, 2)
	}
	s.Print(w)
	c.printMass(w)
	c.printTargets(w)
	c.printBenchmarks(w)
	c.printRules(w)
}

func withUnit(r study.Row) string {
	if r.Unit == "" || r.Unit == "1" {
		return r.Name
	}
	return r.Name + " [" + r.Unit + "]"
}

// decimalsOf says how exactly a measure is shown.
func decimalsOf(key string, money int) int {
	switch key {
	case "price", "setup_cost":
		return money
	case "net_mass", "gross_mass", "scrap_mass":
		return 3
	case "shared_lines":
		return 2
	case "people", "product_specific_floor_space", "floor_space":
		return 1
	}
	return 0
}

// printMass says what the saved mass costs and whether parity holds.
func (c *Comparison) printMass(w io.Writer) {
	if len(c.Details) < 2 {
		return
	}
	fmt.Fprintln(w)
	term.Wrap(w, "", "  ", "Cost of mass saved against "+c.name(c.Base))
	for _, i := range c.others() {
		term.Wrap(w, "  ", "    ", c.name(i)+" "+c.Mass[i].Words)
	}
	term.Wrap(w, "", "", fmt.Sprintf("Parity with %s at %s a saved kilogram", c.name(c.Base), c.money(c.Mass[c.Base].Parity.Value)))
	for _, i := range c.others() {
		p := c.Mass[i].Parity
		words := fmt.Sprintf("holds with %s a piece to spare", c.money(p.Margin))
		if !p.Holds {
			words = fmt.Sprintf("is missed by %s a piece", c.money(-p.Margin))
		}
		term.Wrap(w, "  ", "    ", c.name(i)+" "+words)
	}
}

func (c *Comparison) money(v float64) string {
	digits := 2
	for _, d := range c.Details {
		digits = max(digits, int(d.Statement().Digits))
	}
	return term.Grouped(v, digits) + " " + c.Currency
}

// printTargets says which requirements are met.
func (c *Comparison) printTargets(w io.Writer) {
	if len(c.Targets) == 0 {
		return
	}
	fmt.Fprintln(w, "\nTargets")
	for _, row := range c.Targets {
		t := row[0].Target
		for i, j := range row {
			if i == 0 || !sameNumber(j.Wanted, row[i-1].Wanted) {
				c.printRequirement(w, t, j)
			}
			term.Wrap(w, "    ", "      ", c.name(i)+": "+c.targetWords(j))
		}
	}
}

func sameNumber(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func (c *Comparison) printRequirement(w io.Writer, t *costmodel.Target, j costmodel.Judgement) {
	text := c.Model.ShownTarget(t, j.Wanted)
	if math.IsNaN(j.Wanted) {
		text = t.Name() + ", no target here"
	}
	if t.Stated {
		text += " (values from the sheet)"
	}
	term.Wrap(w, "  ", "    ", text)
}

// targetWords says how a scenario stands to a requirement.
func (c *Comparison) targetWords(j costmodel.Judgement) string {
	unit := " " + c.Model.ShownUnit(j.Target.Unit)
	if unit == " 1" || unit == " " {
		unit = ""
	}
	digits := targetDigits(max(math.Abs(j.Value), math.Abs(j.Wanted)))
	shown := func(v float64) string { return term.Trimmed(term.Grouped(v, digits)) + unit }
	switch {
	case j.Verdict == costmodel.NotKnown && !j.Target.Stated:
		return "it has no " + j.Target.Part
	case j.Verdict == costmodel.NotKnown:
		return "no value is given"
	case j.Verdict == costmodel.NotAsked:
		return term.Trimmed(term.Grouped(j.Value, targetDigits(math.Abs(j.Value)))) + unit
	case j.Over == 0:
		return fmt.Sprintf("%s, %s exactly", shown(j.Value), j.Verdict)
	}
	words := fmt.Sprintf("%s, %s by %s", shown(j.Value), j.Verdict, shown(math.Abs(j.Over)))
	if !math.IsNaN(j.Share) {
		words += fmt.Sprintf(" (%.2f %%)", 100*math.Abs(j.Share))
	}
	return words
}

// targetDigits gives a number and what it misses a target by the same decimals: five digits of the larger, at least two
// decimals below 100,000.
func targetDigits(size float64) int {
	if size == 0 || size >= 1e5 {
		return 0
	}
	return max(2, min(9, 4-int(math.Floor(math.Log10(size)))))
}

// printRules prints the piece cost and rank under each equipment allocation.
func (c *Comparison) printRules(w io.Writer) {
	if len(c.Rules) == 0 {
		return
	}
	fmt.Fprintf(w, "\nPiece cost [%s] by equipment allocation of all machines, (1) the cheapest\n", c.Currency)
	b := term.Blocks{}
	for _, r := range c.Rules {
		b.Labels = append(b.Labels, r.Rule)
	}
	for i := range c.Details {
		col := term.Column{Head: c.name(i)}
		for _, r := range c.Rules {
			digits := int(costmodel.MoneyDigits(c.Currency, r.Costs[i]))
			col.Cells = append(col.Cells, fmt.Sprintf("%s (%d)", term.Grouped(r.Costs[i], digits), r.Rank[i]))
		}
		b.Groups = append(b.Groups, []term.Column{col})
	}
	b.Print(w)
	if len(c.Details) < 2 {
		return
	}
	if len(c.Reversals) == 0 {
		fmt.Fprintln(w, "The ranking is the same under every rule.")
		return
	}
	fmt.Fprintln(w, "The ranking reverses under another equipment allocation:")
	for _, r := range c.Reversals {
		term.Wrap(w, "  ", "    ", r.Words)
	}
}

// sideBySide is a table of scenarios with their changes to the base.
type sideBySide struct {
	c *Comparison
	term.Blocks
}

// sideBySide starts a table: the base stands in every block.
func (c *Comparison) sideBySide() *sideBySide {
	s := &sideBySide{c: c}
	s.Fixed = []term.Column{{Head: c.name(c.Base)}}
	for _, i := range c.others() {
		s.Groups = append(s.Groups, []term.Column{{Head: c.name(i)}, {Head: "change"}})
	}
	return s
}

// add puts a row into the table; what a scenario does not have is empty.
func (s *sideBySide) add(label string, r study.Row, digits int) {
	s.Labels = append(s.Labels, label)
	shown := func(i int) string {
		if r.Absent(i) {
			return ""
		}
		return term.Grouped(r.Values[i], digits)
	}
	s.Fixed[0].Cells = append(s.Fixed[0].Cells, shown(s.c.Base))
	for n, i := range s.c.others() {
		change := ""
		if !r.Absent(i) || !r.Absent(s.c.Base) {
			change = term.SignedOrZero(r.Change(i, s.c.Base), digits)
		}
		s.Groups[n][0].Cells = append(s.Groups[n][0].Cells, shown(i))
		s.Groups[n][1].Cells = append(s.Groups[n][1].Cells, change)
	}
}

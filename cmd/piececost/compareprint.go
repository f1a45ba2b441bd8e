package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// terminalWidth is the number of columns that a printed table keeps to.
const terminalWidth = 80

// print prints the comparison for a terminal.
func (c *comparison) print(w io.Writer, by string) {
	t := c.Table(by)
	digits := 0
	for _, v := range t.Total.Values {
		digits = max(digits, int(costmodel.MoneyDigits(c.Currency, v)))
	}
	printWrapped(w, "", "  ", fmt.Sprintf("%s a good piece by %s, with the change to %s", c.Currency, by, c.name(c.Base)))
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
	s.line()
	s.add("Piece cost", t.Total, digits)
	s.print(w)

	fmt.Fprintln(w, "\nMass, investment and capacity")
	s = c.sideBySide()
	for _, r := range c.Measures {
		s.add(withUnit(r), r, decimalsOf(r.Key, digits))
	}
	s.print(w)

	fmt.Fprintln(w, "\nLines charged, of shared machines a share")
	s = c.sideBySide()
	for _, r := range c.Lines {
		s.add(r.Key+" "+r.Name, r, 2)
	}
	s.print(w)
	c.printMass(w)
	c.printTargets(w)
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
	case "people", "own_floor_area", "floor_area":
		return 1
	}
	return 0
}

// printMass says what the saved mass costs and whether parity holds.
func (c *comparison) printMass(w io.Writer) {
	if len(c.Details) < 2 {
		return
	}
	fmt.Fprintln(w)
	printWrapped(w, "", "  ", "Cost of mass saved against "+c.name(c.Base))
	for _, i := range c.others() {
		printWrapped(w, "  ", "    ", c.name(i)+" "+c.Mass[i].Words)
	}
	printWrapped(w, "", "", fmt.Sprintf("Parity with %s at %s a saved kilogram", c.name(c.Base), c.money(c.Mass[c.Base].Parity.Value)))
	for _, i := range c.others() {
		p := c.Mass[i].Parity
		words := fmt.Sprintf("holds with %s a piece to spare", c.money(p.Margin))
		if !p.Holds {
			words = fmt.Sprintf("is missed by %s a piece", c.money(-p.Margin))
		}
		printWrapped(w, "  ", "    ", c.name(i)+" "+words)
	}
}

func (c *comparison) money(v float64) string {
	digits := 2
	for _, d := range c.Details {
		digits = max(digits, int(d.Statement().Digits))
	}
	return grouped(v, digits) + " " + c.Currency
}

// printTargets says which requirements are met.
func (c *comparison) printTargets(w io.Writer) {
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
			printWrapped(w, "    ", "      ", c.name(i)+": "+c.targetWords(j))
		}
	}
}

func sameNumber(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func (c *comparison) printRequirement(w io.Writer, t *costmodel.Target, j costmodel.Judgement) {
	text := c.model.ShownTarget(t, j.Wanted)
	if math.IsNaN(j.Wanted) {
		text = t.Name() + ", no target here"
	}
	if t.Stated {
		text += " (values from the sheet)"
	}
	printWrapped(w, "  ", "    ", text)
}

// targetWords says how a scenario stands to a requirement.
func (c *comparison) targetWords(j costmodel.Judgement) string {
	unit := " " + c.model.ShownUnit(j.Target.Unit)
	if unit == " 1" || unit == " " {
		unit = ""
	}
	digits := targetDigits(max(math.Abs(j.Value), math.Abs(j.Wanted)))
	shown := func(v float64) string { return trimmed(grouped(v, digits)) + unit }
	switch {
	case j.Verdict == costmodel.NotKnown && !j.Target.Stated:
		return "it has no " + j.Target.Part
	case j.Verdict == costmodel.NotKnown:
		return "no value is given"
	case j.Verdict == costmodel.NotAsked:
		return trimmed(grouped(j.Value, targetDigits(math.Abs(j.Value)))) + unit
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

// trimmed takes off decimals that are 0.
func trimmed(text string) string {
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// printRules prints the piece cost and rank under each charging rule.
func (c *comparison) printRules(w io.Writer) {
	if len(c.rules) == 0 {
		return
	}
	fmt.Fprintf(w, "\nPiece cost [%s] by charging rule of all machines, (1) the cheapest\n", c.Currency)
	b := blocks{}
	for _, r := range c.rules {
		b.labels = append(b.labels, r.Rule)
	}
	for i := range c.Details {
		col := column{head: c.name(i)}
		for _, r := range c.rules {
			digits := int(costmodel.MoneyDigits(c.Currency, r.Costs[i]))
			col.cells = append(col.cells, fmt.Sprintf("%s (%d)", grouped(r.Costs[i], digits), r.Rank[i]))
		}
		b.groups = append(b.groups, []column{col})
	}
	b.print(w)
	if len(c.Details) < 2 {
		return
	}
	if len(c.reversals) == 0 {
		fmt.Fprintln(w, "The ranking is the same under every rule.")
		return
	}
	fmt.Fprintln(w, "The charging rule turns the ranking round:")
	for _, r := range c.reversals {
		printWrapped(w, "  ", "    ", r.Words)
	}
}

// sideBySide is a table of scenarios with their changes to the base.
type sideBySide struct {
	c *comparison
	blocks
}

// sideBySide starts a table: the base stands in every block.
func (c *comparison) sideBySide() *sideBySide {
	s := &sideBySide{c: c}
	s.fixed = []column{{head: c.name(c.Base)}}
	for _, i := range c.others() {
		s.groups = append(s.groups, []column{{head: c.name(i)}, {head: "change"}})
	}
	return s
}

// add puts a row into the table; what a scenario does not have is empty.
func (s *sideBySide) add(label string, r study.Row, digits int) {
	s.labels = append(s.labels, label)
	shown := func(i int) string {
		if r.Absent(i) {
			return ""
		}
		return grouped(r.Values[i], digits)
	}
	s.fixed[0].cells = append(s.fixed[0].cells, shown(s.c.Base))
	for n, i := range s.c.others() {
		change := ""
		if !r.Absent(i) || !r.Absent(s.c.Base) {
			change = signedOrZero(r.Change(i, s.c.Base), digits)
		}
		s.groups[n][0].cells = append(s.groups[n][0].cells, shown(i))
		s.groups[n][1].cells = append(s.groups[n][1].cells, change)
	}
}

// signedOrZero writes a change with its sign, and one that is shown as nothing without.
func signedOrZero(v float64, digits int) string {
	text := grouped(v, digits)
	if strings.Trim(text, "-0.,") == "" {
		return strings.TrimPrefix(text, "-")
	}
	if v > 0 {
		return "+" + text
	}
	return text
}

// printWrapped prints a text in lines of at most terminalWidth columns; a word that is longer than a line breaks.
func printWrapped(w io.Writer, first, next, text string) {
	line, indent, empty := first, next, true
	for _, word := range lineWords(text, terminalWidth-max(len(first), len(next))) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > terminalWidth {
			fmt.Fprintln(w, line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	fmt.Fprintln(w, line)
}

// lineWords are the words of a text, those longer than width in pieces.
func lineWords(text string, width int) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		runes := []rune(word)
		for ; len(runes) > width; runes = runes[width:] {
			out = append(out, string(runes[:width]))
		}
		out = append(out, string(runes))
	}
	return out
}

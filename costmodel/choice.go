package costmodel

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

// A Choice is the machine that an operation without one of its own gets in a scenario: of those of its process class in its plant that pass the
// process's checks, the one on which it costs least in a year if it stood there alone, at the scenario's own volume. Of two alike the first in
// the sheet. The choice holds over all volumes that are costed.
type Choice struct {
	Operation *Record
	Machine   *Record
	Cost      float64 // model currency a year, of the operation on it alone: without material and what joins
	RunnerUp  *Record // nil where nothing else fits
	NextCost  float64
	Misfits   []Misfit // those of the class that do not fit, in the order of the sheet
}

// A Misfit is a machine of an operation's class that it can't be made on.
type Misfit struct {
	Machine    *Record
	Lacks      string  // what its check says, or what is not given
	Ungiven    bool    // it may be strong enough: a figure of it, or of the operation, has not been given
	Needs, Has float64 // what was compared, coherent; NaN where that is no pair of numbers
	Unit       string  // in which Shown writes them
	factor     float64
}

// notGiven ends what a machine or an operation lacks to be tried.
const notGiven = " is not given"

// Shown writes what is needed and what is there: "needs 3200 kN, has 2500 kN"; "" where there are no numbers.
func (x Misfit) Shown() string {
	if math.IsNaN(x.Needs) || math.IsNaN(x.Has) {
		return ""
	}
	return fmt.Sprintf("needs %s %s, has %s %s", figure(x.Needs/x.factor), x.Unit, figure(x.Has/x.factor), x.Unit)
}

// figure writes a number to four digits, never in powers of ten.
func figure(v float64) string {
	if math.Abs(v) >= 1000 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	if err != nil {
		return fmt.Sprint(v)
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}

// short is by which factor a misfit falls short; what is no number is worst.
func (x Misfit) short() float64 {
	if math.IsNaN(x.Needs) || !(x.Has > 0) {
		return math.Inf(1)
	}
	return math.Max(x.Needs/x.Has, x.Has/x.Needs)
}

// Nearest is the misfit that lacks least; ok is false where there is none.
func (c *Choice) Nearest() (x Misfit, ok bool) {
	for i, m := range c.Misfits {
		if i == 0 || m.short() < x.short() {
			x = m
		}
	}
	return x, len(c.Misfits) > 0
}

// Says tells a choice in words: what was chosen at which cost, what is next, and what the nearest that does not fit lacks.
func (c *Choice) Says(currency string) string {
	out := fmt.Sprintf("machine %s was chosen, %s %s per year alone", c.Machine.Key, figure(c.Cost), currency)
	switch _, misfit := c.Nearest(); {
	case c.RunnerUp != nil:
		out += fmt.Sprintf("; next is %s with %s", c.RunnerUp.Key, figure(c.NextCost))
	case !misfit:
		out += "; there is no other of its class"
	default:
		out += "; no other of its class fits"
	}
	if near, misfit := c.Nearest(); misfit {
		out += fmt.Sprintf("; %s does not fit: %s", near.Machine.Key, near.Says())
	}
	return out
}

// Says tells what a machine lacks, with the numbers that were compared.
func (x Misfit) Says() string {
	if shown := x.Shown(); shown != "" {
		return x.Lacks + ", " + shown
	}
	return x.Lacks
}

// ChoiceNotes are notes of what was chosen in the scenarios of plans, each at its operation.
func ChoiceNotes(plans []*Plan) (ds table.Diagnostics) {
	for _, p := range plans {
		for _, c := range p.Choices() {
			ds = append(ds, table.Diagnostic{Code: "machine", Severity: table.Note, Place: c.Operation.TextPlace("machine"), Scenario: p.Scenario.Name,
				Summary: fmt.Sprintf("operation %s: %s", c.Operation.Key, c.Says(p.Model.Schema.Units.ModelCurrency()))})
		}
	}
	return ds
}

// Choices lists the machines that were chosen for operations of a plan, in the order of their rows.
func (p *Plan) Choices() (out []*Choice) {
	for _, s := range p.graph.st.steps {
		if c := p.Scenario.ChoiceOf(s.rec); c != nil {
			out = append(out, c)
		}
	}
	return out
}

// Choices lists the machines that were chosen for a scenario, in the order of the sheet Operations; those of operations that do not count in it
// are left out.
func (s *Scenario) Choices(m *Model) (out []*Choice) {
	for _, r := range m.records["operation"] {
		if c := s.chosen[r]; c != nil && c.tried() {
			out = append(out, c)
		}
	}
	return out
}

// ChoiceOf is the choice for an operation, nil where its machine is given.
func (s *Scenario) ChoiceOf(operation *Record) *Choice {
	if text, _ := s.text(operation, "machine"); text != "" {
		return nil
	}
	return s.chosen[operation]
}

// classesOf are the processes that a machine's cell Process class names, and the words among them that are none.
func (m *Model) classesOf(machine *Record) (out []*Variant, unknown []string) {
	sc := m.Schema.byName["operation"]
	for _, word := range splitList(machine.Text("process_class")) {
		if v := sc.variant(word); v != nil {
			out = append(out, v)
		} else {
			unknown = append(unknown, word)
		}
	}
	return out, unknown
}

// ofClass lists the machines that can do a process, in the order of the sheet.
func (m *Model) ofClass(process *Variant) []*Record { return m.classes[process] }

// standsIn tells whether a machine stands in a plant: where it names none in every one.
func standsIn(machine *Record, plant string) bool {
	list := splitList(machine.Text("plant"))
	return len(list) == 0 || slices.ContainsFunc(list, func(p string) bool { return strings.EqualFold(p, plant) })
}

// readClasses notes which machines can do a process. It reports classes that are no process, and plants of machines that are not there.
func (m *Model) readClasses() {
	m.classes = map[*Variant][]*Record{}
	for _, r := range m.records["machine"] {
		known, unknown := m.classesOf(r)
		for _, v := range known {
			m.classes[v] = append(m.classes[v], r)
		}
		for _, word := range unknown {
			var names []string
			for _, v := range m.Schema.byName["operation"].Variants[1:] {
				names = append(names, v.Template.Name)
			}
			m.Diagnostics.Add("process", r.TextPlace("process_class"), fmt.Sprintf("Process class of %s: unknown process %q", r.Key, table.Shortened(word)),
				nearestOr(strings.ToLower(word), names, "write processes that `piececost processes` lists, with commas between them"))
		}
		if len(known)+len(unknown) == 0 {
			continue // its Plant is a word of the user's own
		}
		for _, plant := range splitList(r.Text("plant")) {
			if len(m.byKey["plant"][plant]) == 0 && !m.unread["plant"] {
				help := "write a column of the sheet Plants, or leave the cell empty for every plant"
				if near := formula.Nearest(plant, m.keys("plant")); near != "" {
					help = "did you mean " + near + "?"
				}
				m.Diagnostics.Add("reference", r.TextPlace("plant"), fmt.Sprintf("plant %q of machine %s is not in the sheet Plants",
					table.Shortened(plant), r.Key), help)
			}
		}
	}
}

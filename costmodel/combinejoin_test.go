package costmodel

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// joinsCase is the sample with scenarios of design A that list these alternatives, and tagged links: a row that is there,
// with its tag, or a new one.
func joinsCase(t testing.TB, listed []string, links []string) csvCase {
	t.Helper()
	c := sampleTables(t)
	rows := [][]string{{"Sheet", "Row", "Column"}, {"", "", "Annual volume [1/yr]"}, {"", "", "Product"}, {"", "", "Alternatives"}, {"", "", "Plant"}}
	for i, tags := range listed {
		for k, cell := range []string{fmt.Sprint("scenario ", i), "60000", "TRAY_A", `"` + tags + `"`, "Van plant"} {
			rows[k] = append(rows[k], cell)
		}
	}
	c["Scenarios"] = ""
	for _, r := range rows {
		c["Scenarios"] += strings.Join(r, ",") + "\n"
	}
	bill := strings.Split(strings.TrimRight(c["Bill of materials"], "\n"), "\n")
	for _, l := range links {
		cells := strings.Split(l, ",") // parent, child, step, tags with semicolons
		row := fmt.Sprintf(`%s,%s,1,%s,"%s",invented`, cells[0], cells[1], cells[2], strings.ReplaceAll(cells[3], ";", ","))
		at := slices.IndexFunc(bill, func(b string) bool {
			f := strings.Split(b, ",")
			return f[0] == cells[0] && f[1] == cells[1] && f[3] == cells[2] && f[4] == ""
		})
		if at < 0 {
			bill = append(bill, row)
		} else {
			bill[at] = row
		}
	}
	c["Bill of materials"] = strings.Join(bill, "\n") + "\n"
	return c
}

// oneOfThese is what a test expects: wherever the part is made exactly one of the choices is taken.
type oneOfThese struct {
	part    string
	choices []string // tags, of a choice that bears several with semicolons
}

// TestCombineJoins: of links of one parent that join at one step and stand for one another one is taken, extras are free.
// Every set of tags is held against the scenario that lists it, and against the choices that the table names.
func TestCombineJoins(t *testing.T) {
	covers := []string{"TRAY_A,COVER_A,30,old cover", "TRAY_A,COVER_C,30,thin cover"}
	coverRule := oneOfThese{"TRAY_A", []string{"old cover", "thin cover"}}
	coverWords := "one of COVER_A (old cover) and COVER_C (thin cover) at operation 30 of TRAY_A"
	for name, of := range map[string]struct {
		listed []string // by scenario; the first one is combined
		links  []string
		rules  []oneOfThese
		words  []string
		valid  int
	}{
		"one for another": {[]string{"old cover"}, covers, []oneOfThese{coverRule}, []string{coverWords}, 2},
		"none is listed": {[]string{""}, covers, nil,
			[]string{"any of COVER_A (old cover) and COVER_C (thin cover) at operation 30 of TRAY_A"}, 4},
		"both are listed": {[]string{"old cover, thin cover"}, covers, nil,
			[]string{"any of COVER_A (old cover) and COVER_C (thin cover) at operation 30 of TRAY_A"}, 4},
		"both are listed elsewhere": {[]string{"old cover", "old cover, thin cover"}, covers, nil,
			[]string{"any of COVER_A (old cover) and COVER_C (thin cover) at operation 30 of TRAY_A"}, 4},
		"a link alone": {[]string{"valve"}, []string{"TRAY_A,P04,30,valve"}, nil, nil, 2},
		"at different operations": {[]string{"old cover, drain"}, append([]string{"TRAY_A,P05,20,drain"}, covers...), []oneOfThese{coverRule},
			[]string{coverWords}, 4},
		"in letters of the other case": {[]string{"OLD cover"}, covers, []oneOfThese{coverRule}, []string{coverWords}, 2},
		"a link without a tag stays": {[]string{"thin cover"}, []string{"TRAY_A,COVER_C,30,thin cover", "TRAY_A,COVER_B,30,bent cover"},
			[]oneOfThese{{"TRAY_A", []string{"thin cover", "bent cover"}}},
			[]string{"one of COVER_C (thin cover) and COVER_B (bent cover) at operation 30 of TRAY_A"}, 2},
		"a seal with its cover": {[]string{"old cover"}, append([]string{"TRAY_A,P01,30,Old Cover; thin cover"}, covers...), []oneOfThese{coverRule},
			[]string{"one of COVER_A and P01 (old cover) and P01 and COVER_C (thin cover) at operation 30 of TRAY_A"}, 2},
		"one that brings more": {[]string{"full"}, []string{"TRAY_A,P04,30,full; lean", "TRAY_A,P05,30,full"},
			[]oneOfThese{{"TRAY_A", []string{"full", "lean"}}},
			[]string{"one of P04 and P05 (full) and P04 (lean) at operation 30 of TRAY_A"}, 2},
		"two words on one link": {[]string{"old cover"}, []string{"TRAY_A,COVER_A,30,old cover", "TRAY_A,COVER_C,30,thin cover; trial"},
			[]oneOfThese{{"TRAY_A", []string{"old cover", "thin cover;trial"}}},
			[]string{"one of COVER_A (old cover) and COVER_C (thin cover, trial) at operation 30 of TRAY_A"}, 4},
		"an extra beside them": {[]string{"old cover"}, append([]string{"TRAY_A,P05,30,drain kit"}, covers...), []oneOfThese{coverRule},
			[]string{coverWords, "any of P05 (drain kit) at operation 30 of TRAY_A"}, 4},
		"an extra that is listed": {[]string{"old cover, drain kit"}, append([]string{"TRAY_A,P05,30,drain kit"}, covers...), []oneOfThese{coverRule},
			[]string{coverWords, "any of P05 (drain kit) at operation 30 of TRAY_A"}, 4},
		"no word in common": {[]string{"steel"}, []string{"TRAY_A,COVER_A,30,steel", "TRAY_A,P05,30,bought"},
			[]oneOfThese{{"TRAY_A", []string{"steel", "bought"}}},
			[]string{"one of COVER_A (steel) and P05 (bought) at operation 30 of TRAY_A"}, 2},
		"no word, but listed by itself": {[]string{"old cover", "bought"}, append([]string{"TRAY_A,P05,30,bought"}, covers...),
			[]oneOfThese{{"TRAY_A", []string{"old cover", "thin cover", "bought"}}},
			[]string{"one of COVER_A (old cover), P05 (bought) and COVER_C (thin cover) at operation 30 of TRAY_A"}, 3},
		"no word, and listed with one": {[]string{"old cover", "thin cover, bought"}, append([]string{"TRAY_A,P05,30,bought"}, covers...),
			[]oneOfThese{coverRule},
			[]string{coverWords, "any of P05 (bought) at operation 30 of TRAY_A"}, 4},
		"two things at one operation": {[]string{"old cover, old seal"}, append([]string{"TRAY_A,P01,30,old seal", "TRAY_A,P03,30,new seal"}, covers...),
			[]oneOfThese{coverRule, {"TRAY_A", []string{"old seal", "new seal"}}},
			[]string{coverWords, "one of P01 (old seal) and P03 (new seal) at operation 30 of TRAY_A"}, 4},
		"two things told apart by the scenarios": {[]string{"steel, rubber", "alloy, rubber"}, []string{"TRAY_A,COVER_A,30,steel", "TRAY_A,P01,30,rubber",
			"TRAY_A,P03,30,alloy"}, []oneOfThese{{"TRAY_A", []string{"steel", "alloy"}}},
			[]string{"one of COVER_A (steel) and P03 (alloy) at operation 30 of TRAY_A", "any of P01 (rubber) at operation 30 of TRAY_A"}, 4},
		"two things told apart by nothing": {[]string{"steel, rubber"}, []string{"TRAY_A,COVER_A,30,steel", "TRAY_A,P01,30,rubber", "TRAY_A,P03,30,alloy"}, nil,
			[]string{"any of COVER_A (steel), P01 (rubber) and P03 (alloy) at operation 30 of TRAY_A"}, 8},
		"a word that both have": {[]string{"old cover, old seal"}, []string{"TRAY_A,COVER_A,30,old cover", "TRAY_A,P01,30,old seal",
			"TRAY_A,COVER_C,30,old thin cover"}, []oneOfThese{{"TRAY_A", []string{"old cover", "old thin cover"}}},
			[]string{"one of COVER_A (old cover) and COVER_C (old thin cover) at operation 30 of TRAY_A",
				"any of P01 (old seal) at operation 30 of TRAY_A"}, 4},
		"a child of theirs at another operation": {[]string{"old cover"}, append([]string{"TRAY_A,COVER_A,20,second"}, covers...), []oneOfThese{coverRule},
			[]string{coverWords}, 4},
		"one child at two operations": {[]string{"early"}, []string{"TRAY_A,P02,30,early", "TRAY_A,P02,10,late"},
			[]oneOfThese{{"TRAY_A", []string{"early", "late"}}},
			[]string{"one of operation 30 (early) and operation 10 (late) for P02 of TRAY_A"}, 2},
		"below one of them": {[]string{"old cover, new skin"}, append([]string{"COVER_C,C01,10,new skin", "COVER_C,A01,10,old skin"}, covers...),
			[]oneOfThese{coverRule, {"COVER_C", []string{"new skin", "old skin"}}},
			[]string{coverWords, "one of C01 (new skin) and A01 (old skin) at operation 10 of COVER_C"}, 3},
	} {
		t.Run(name, func(t *testing.T) {
			c, ds := joinsCase(t, of.listed, of.links).model(t).combinerOfFirst()
			if c == nil {
				t.Fatal(ds)
			}
			if got := holdRules(t, c, of.rules); got != of.valid {
				t.Errorf("%d valid combinations, want %d", got, of.valid)
			}
			var words []string
			for _, o := range c.JoinOptions() {
				words = append(words, map[bool]string{true: "one of ", false: "any of "}[o.One]+o.Names())
			}
			slices.Sort(words)
			slices.Sort(of.words)
			if !slices.Equal(words, of.words) {
				t.Errorf("said\n%s\nwant\n%s", strings.Join(words, "\n"), strings.Join(of.words, "\n"))
			}
		})
	}
}

func (m *Model) combinerOfFirst() (*Combiner, table.Diagnostics) { return m.Combiner(m.Scenarios[0]) }

// holdRules tries every set of tags and returns how many are combinations: those that are scenarios, in which each tag is on
// a row, and which keep to the rules. They must be offered and cost the same.
func holdRules(t *testing.T, c *Combiner, rules []oneOfThese) int {
	t.Helper()
	n := len(c.Tags())
	offered := map[string]bool{}
	c.Each(make([]int, n), func(in []bool) bool { offered[fmt.Sprint(in)] = true; return true })
	valid := 0
	in := make([]bool, n)
	for bits := range 1 << n {
		for i := range in {
			in[i] = bits>>i&1 == 1
		}
		s := c.With(in)
		p, _ := c.Model().Compile(s, CompileOptions{})
		want := p != nil && tagsUsed(p, s) && keepsRules(p, s, rules)
		if got := c.Add(in, 60_000); got != want {
			t.Errorf("%v: a combination %v, want %v", s.Alternatives, got, want)
			c.Reset()
			continue
		}
		if !want {
			continue
		}
		valid++
		cost, _ := c.Cost()
		if d := p.Detail(60_000).Scenario().Must("piece_cost"); !(math.Abs(cost[0]-d) <= 1e-9*d) {
			t.Errorf("%v: %v, as a scenario %v", s.Alternatives, cost[0], d)
		}
		if len(c.SameRows()) == 0 && !offered[fmt.Sprint(in)] {
			t.Errorf("%v is not offered", s.Alternatives)
		}
	}
	return valid
}

// tagsUsed tells whether each alternative of a scenario stands on one of its rows.
func tagsUsed(p *Plan, s *Scenario) bool {
	borne := ""
	for e := range p.Entities() {
		if r := p.RowRecord(plan.Entity(e)); r != nil {
			borne += strings.ToLower(strings.Join(splitList(r.Text("alternative")), ";")) + ";"
		}
	}
	return !slices.ContainsFunc(s.Alternatives, func(a string) bool { return !strings.Contains(";"+borne, ";"+strings.ToLower(a)+";") })
}

// keepsRules tells whether exactly one choice is taken wherever the part is made.
func keepsRules(p *Plan, s *Scenario, rules []oneOfThese) bool {
	for _, r := range rules {
		made, taken := false, 0
		for e := range p.Entities() {
			rec := p.RowRecord(plan.Entity(e))
			made = made || rec != nil && p.RowScope(plan.Entity(e)).Name == "part" && rec.Key == r.part
		}
		for _, choice := range r.choices {
			for _, tag := range strings.Split(choice, ";") {
				if slices.Contains(s.Alternatives, tag) {
					taken++
					break
				}
			}
		}
		if made && taken != 1 {
			return false
		}
	}
	return true
}

// TestCombineElsewhere: a part in two rows that the product has not, and whose tags therefore are none of the combination's,
// takes no combination away; with a tag that is one of them it does, as it does in a scenario.
func TestCombineElsewhere(t *testing.T) {
	c := joinsCase(t, []string{"old cover"}, []string{"TRAY_A,COVER_A,30,old cover", "TRAY_A,COVER_C,30,thin cover"})
	outside := func(first, second string) csvCase {
		out := csvCase{}
		for k, v := range c {
			out[k] = v
		}
		lines := strings.Split(strings.TrimRight(out["Parts"], "\n"), "\n")
		at := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "COVER_B,") })
		cells := strings.Split(lines[at], ",")
		for _, tag := range []string{second, first} {
			cells[2] = tag
			lines = append(lines[:len(lines):len(lines)], strings.Join(cells, ","))
		}
		lines = slices.Delete(lines, at, at+1)
		out["Parts"] = strings.Join(lines, "\n") + "\n"
		return out
	}
	rule := []oneOfThese{{"TRAY_A", []string{"old cover", "thin cover"}}}
	for _, of := range []struct {
		first, second string
		valid         int
	}{{"rolled", "pressed", 2}, {"rolled", "", 2}, {"thin cover", "pressed", 2}, {"thin cover", "", 1}, {"thin cover", "old cover", 2}} {
		got, ds := outside(of.first, of.second).model(t).combinerOfFirst()
		if got == nil {
			t.Fatal(ds)
		}
		if n := holdRules(t, got, rule); n != of.valid {
			t.Errorf("with %q and %q of a part elsewhere: %d combinations, want %d", of.first, of.second, n, of.valid)
		}
	}
}

// TestLeftOutOnce: options that a scenario lacks are said once, however many scenarios have one of them, and not where their
// parent is not made.
func TestLeftOutOnce(t *testing.T) {
	m := joinsCase(t, []string{"old cover", "thin cover, new skin", ""}, []string{
		"TRAY_A,COVER_A,30,old cover", "TRAY_A,COVER_C,30,thin cover", "COVER_C,C01,10,new skin", "COVER_C,A01,10,old skin"}).model(t)
	for i, want := range []int{0, 0, 1} {
		_, ds := m.Compile(m.Scenarios[i], CompileOptions{})
		got := 0
		for _, d := range ds {
			if d.Code == "left out" {
				got++
			}
		}
		if got != want {
			t.Errorf("%s: %d warnings, want %d: %v", m.Scenarios[i].Name, got, want, ds)
		}
	}
}

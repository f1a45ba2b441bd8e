package scenarios

import (
	"encoding/csv"
	"io/fs"
	"math"
	"strconv"
	"strings"
	"testing"

	"piececost/templates"
)

// The sample case once more in plain Go, written from the equations without the engine: a reference for every volume,
// and what the engine's speed is measured against. Money in EUR, masses in kg, times in hours, shares as fractions.

type plainTable []map[string]string

func samplePlainTable(t testing.TB, name string) plainTable {
	t.Helper()
	f, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		t.Fatal(err)
	}
	file, err := f.Open(name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out plainTable
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			if j := strings.Index(h, " ["); j > 0 {
				h = h[:j]
			}
			m[h] = row[i]
		}
		out = append(out, m)
	}
	return out
}

func num(m map[string]string, key string) float64 {
	v, _ := strconv.ParseFloat(m[key], 64)
	return v
}

type plainPart struct {
	key                                        string
	blank, gross, own, price, scrap, purchased float64
	tailored, bought                           bool
	steps                                      []*plainStep
	children                                   []plainLink
	net                                        float64
}

type plainLink struct {
	child *plainPart
	q     float64
	at    float64
}

type plainStep struct {
	number, t, c, r, setup, batch, tool, life, refurb, refurbCost, consumables float64
	joined                                                                     float64
	m                                                                          *plainMachine
	joining                                                                    []plainLink
}

type plainMachine struct {
	installed, life, area, kw, crew, mu, u float64
	pooled, shifts                         bool
	hours, machines, crews                 float64 // of the pool
	crf                                    float64
}

type plainCase struct {
	product                                                                                     *plainPart
	parts                                                                                       []*plainPart // parents first
	days, shifts, paid, plan, wage, indirect, fixed, kwh, hall, load, balance, toolMaint, mixed float64
	programme, interest, wc, toolCRF                                                            float64
	machines                                                                                    []*plainMachine
}

func plainCRF(i, n float64) float64 { return i * math.Pow(1+i, n) / (math.Pow(1+i, n) - 1) }

func plainCeil(v float64) float64 { return math.Ceil(v - 1e-9) }

// newPlainCase reads the sample's tables for one product.
func newPlainCase(t testing.TB, product string) *plainCase {
	c := &plainCase{}
	facts := map[string]float64{}
	for _, name := range []string{"case", "plants"} {
		for _, r := range samplePlainTable(t, name) {
			v := r["Value"]
			if name == "plants" {
				v = r["Van plant"]
			}
			facts[r["Quantity"]], _ = strconv.ParseFloat(v, 64)
			if strings.HasPrefix(r["Unit"], "%") {
				facts[r["Quantity"]] /= 100
			}
		}
	}
	hours := facts["Paid hours per shift"] - facts["Paid break per shift"] - facts["Planned downtime per shift"]
	c.days, c.shifts, c.paid = facts["Working days"], facts["Shifts"], facts["Paid hours per shift"]
	c.plan = c.days * c.shifts * hours
	c.wage, c.indirect, c.fixed = facts["Direct labour rate"], facts["Indirect labour share"], facts["Fixed overhead share"]
	c.kwh, c.load, c.balance = facts["Electricity price"], facts["Planned capacity utilisation"], facts["Line-balance efficiency"]
	c.toolMaint, c.mixed = facts["Tool maintenance share"], facts["Mixed scrap price"]
	c.programme, c.interest = facts["Programme life"], facts["Interest rate"]
	c.wc = c.interest * facts["Working capital days"] / 365
	c.hall = facts["Floor-space factor"] * facts["Building price"] * plainCRF(c.interest, facts["Building economic life"])
	c.toolCRF = plainCRF(c.interest, c.programme)
	machines := c.readMachines(t)
	parts := readPlainParts(t)
	c.readSteps(t, parts, machines)
	for _, r := range samplePlainTable(t, "bill_of_materials") {
		p := parts[r["Parent"]]
		p.children = append(p.children, plainLink{parts[r["Child"]], num(r, "Quantity"), num(r, "Joined at operation")})
	}
	c.product = parts[product]
	seen := map[*plainPart]bool{}
	var walk func(p *plainPart)
	walk = func(p *plainPart) {
		if seen[p] {
			return
		}
		seen[p] = true
		for _, l := range p.children {
			walk(l.child)
		}
		finishPlainPart(p)
		c.parts = append([]*plainPart{p}, c.parts...)
	}
	walk(c.product)
	return c
}

func (c *plainCase) readMachines(t testing.TB) map[string]*plainMachine {
	out := map[string]*plainMachine{}
	for _, r := range samplePlainTable(t, "machines") {
		m := &plainMachine{installed: num(r, "Price") * (1 + num(r, "Installation share")/100), life: num(r, "Economic life"),
			area: num(r, "Footprint"), kw: num(r, "Rated power") * num(r, "Power load factor") / 100, crew: num(r, "Crew"),
			mu: num(r, "Maintenance share") / 100, u: num(r, "Unplanned downtime share") / 100,
			pooled: r["Equipment allocation"] == "pooled", shifts: r["Labour allocation"] == "whole shifts"}
		out[r["Machine"]] = m
		c.machines = append(c.machines, m)
	}
	return out
}

func readPlainParts(t testing.TB) map[string]*plainPart {
	materials := map[string]map[string]string{}
	for _, r := range samplePlainTable(t, "materials") {
		materials[r["Material"]] = r
	}
	out := map[string]*plainPart{}
	for _, r := range samplePlainTable(t, "parts") {
		p := &plainPart{key: r["Part"]}
		m := materials[r["Material"]]
		gauge, length := num(r, "Gauge")/1000, num(r, "Blank length")/1000
		switch r["Form"] {
		case "sheet", "profile":
			p.blank = length * num(r, "Blank width") / 1000 * gauge * num(m, "Density")
		case "tube":
			p.blank = math.Pi * (num(r, "Outer diameter")/1000 - gauge) * gauge * length * num(m, "Density")
		case "tailored blank":
			p.tailored = true
			p.own = 1 - num(r, "Trim loss share")/100
		case "purchased part":
			p.bought, p.purchased, p.own = true, num(r, "Purchase price"), num(r, "Purchase mass")
		}
		if p.blank > 0 {
			p.gross = p.blank / (num(r, "Nesting utilisation") / 100)
			p.own = p.blank * (1 - num(r, "Trim loss share")/100)
			p.price, p.scrap = num(m, "Base price")+num(m, "Extras"), num(m, "Scrap price")
		}
		out[p.key] = p
	}
	return out
}

func (c *plainCase) readSteps(t testing.TB, parts map[string]*plainPart, machines map[string]*plainMachine) {
	for _, r := range samplePlainTable(t, "operations") {
		m := machines[r["Machine"]]
		balance := 1.0
		if m.pooled {
			balance = c.balance
		}
		joints := num(r, "Joints")*num(r, "Time per joint") + num(r, "Seam length")*num(r, "Time per seam length")
		s := &plainStep{number: num(r, "Operation"), t: (num(r, "Load and process time") + joints/balance) / 3600, c: num(r, "Pieces per cycle"),
			r: num(r, "Reject rate") / 100, setup: num(r, "Set-up time") / 60, batch: num(r, "Batch size"), tool: num(r, "Tool price"),
			life:   num(r, "Tool life"),
			refurb: num(r, "Refurbishment interval"), refurbCost: num(r, "Refurbishment cost"), consumables: num(r, "Consumables per piece"), m: m}
		parts[r["Part"]].steps = append(parts[r["Part"]].steps, s)
	}
}

// finishPlainPart computes masses once the children have theirs.
func finishPlainPart(p *plainPart) {
	sum := 0.0
	for _, l := range p.children {
		sum += l.q * l.child.net
	}
	if p.tailored {
		p.gross = sum
		p.own *= sum
		p.net = p.own
		p.scrap = p.children[0].child.scrap
	} else {
		p.net = p.own + sum
	}
	for _, s := range p.steps {
		for _, l := range p.children {
			if l.at == s.number {
				s.joining = append(s.joining, l)
			}
			if l.at <= s.number && !p.tailored {
				s.joined += l.q * l.child.net
			}
		}
	}
}

// cost computes the elements of a good product at annual volume n, everything anew: the naive function.
func (c *plainCase) cost(n float64) (elements [12]float64) {
	demand := map[*plainPart]float64{c.product: n}
	in := map[*plainStep]float64{}
	for _, m := range c.machines {
		m.hours = 0
		m.crf = plainCRF(c.interest, m.life)
	}
	for _, p := range c.parts {
		out := demand[p]
		for i := len(p.steps) - 1; i >= 0; i-- {
			s := p.steps[i]
			out /= 1 - s.r
			in[s] = out
			if s.m.pooled {
				s.m.hours += c.required(s, out)
			}
			for _, l := range s.joining {
				demand[l.child] += l.q * out
			}
		}
	}
	for _, m := range c.machines {
		m.machines = math.Max(1, plainCeil(m.hours/c.plan))
		m.crews = math.Max(1, plainCeil(m.hours/(c.plan/c.shifts)))
	}
	for _, p := range c.parts {
		for i, s := range p.steps {
			good := demand[p]
			if i+1 < len(p.steps) {
				good = in[p.steps[i+1]]
			}
			c.step(p, s, i, in[s], good, in[p.steps[0]], demand[p], &elements)
		}
	}
	for i := range elements {
		elements[i] /= n
	}
	return elements
}

func (c *plainCase) required(s *plainStep, in float64) float64 {
	return in/s.c*s.t/(1-s.m.u) + plainCeil(in/s.batch)*s.setup
}

func (c *plainCase) step(p *plainPart, s *plainStep, i int, in, good, started, finished float64, e *[12]float64) {
	req := c.required(s, in)
	run := in / s.c * s.t
	var v [12]float64
	if i == 0 && !p.tailored {
		v[0] = in * p.gross * p.price
	}
	if i == len(p.steps)-1 && (p.tailored || p.blank > 0) {
		v[1] = -(started*p.gross - finished*p.own) * p.scrap
	}
	v[1] -= (in - good) * s.joined * c.mixed
	for _, l := range s.joining {
		v[2] += l.q * in * l.child.purchased
	}
	v[3] = in * s.consumables
	v[4] = run * s.m.kw * c.kwh
	x := req / (c.load * c.plan)
	if s.m.pooled {
		x = s.m.machines * req / s.m.hours
	}
	if s.m.pooled && s.m.shifts {
		v[5] = s.m.crews * c.days * c.paid * s.m.crew * c.wage * req / s.m.hours
	} else {
		v[5] = req * s.m.crew * c.paid * c.days * c.shifts / c.plan * c.wage
	}
	k := math.Max(1, plainCeil(req/c.plan))
	cycles := c.programme * in / s.c
	sets := math.Max(k, plainCeil(cycles/s.life))
	refurb := math.Max(0, plainCeil(cycles/s.refurb)-sets)
	v[6] = x * s.m.installed * s.m.crf
	v[7] = x * s.m.area * c.hall
	v[8] = x*s.m.installed*s.m.mu + sets*s.tool*c.toolMaint
	v[9] = sets*s.tool*c.toolCRF + refurb*s.refurbCost/c.programme
	v[10] = c.indirect*v[5] + c.fixed*(v[6]+v[7]+v[8]+v[9])
	v[11] = c.wc * (v[0] + v[1] + v[2] + v[3] + v[4] + v[5])
	for j := range v {
		e[j] += v[j]
	}
}

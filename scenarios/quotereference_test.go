package scenarios

import (
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel"
)

// The chain to equal terms once more in plain Go, from its description and not from templates/quotes. What is not stated is NaN, and what
// rests on it is NaN too. Only figures of the should-cost come from the engine: from the part, costed at the quote's volume.

// A refQuote is a quote as a person reads it from the sheets, with all that follows.
type refQuote struct {
	sheets                       quoteSheets
	key                          string
	lines                        []refLine
	rate                         float64 // model currency for one of the quote's
	model                        refModel
	askedPackaging, askedFreight float64 // of the request

	i, l, n float64 // interest, programme life, annual volume of the request
	crf     float64

	unit, price, tools, after4, gross, offal      float64
	base, baseAsked, scrap, scrapAsked            float64 // list prices of the quote's month and of the request's
	after6, freight, paid, pv, missing, levelised float64
	payment, sets                                 float64            // sets of tools that the programme needs
	chain                                         map[int][2]float64 // change and sum by number of the step, NaN for none
	cash                                          float64
	open                                          []string // steps that count 0 for want of something that is to be asked for
}

// A refModel is what a part costs at the quote's volume, a piece.
type refModel struct {
	grade                                                     string
	material, scrap, purchased, process, overhead, sga, fixed float64
	gross, net, cycle, reject, tools                          float64
	materialPrice, extras, scrapPrice                         float64
	labourRate, machineRate, days, shiftHours, dayHours       float64 // only with a Plant
}

// refModelOf costs the part in the scenario that makes it.
func refModelOf(t testing.TB, m *costmodel.Model, part string, volume float64, plant string) refModel {
	t.Helper()
	at := slices.IndexFunc(m.Scenarios, func(s *costmodel.Scenario) bool { return s.Makes(m, part) })
	if at < 0 {
		t.Fatal("nothing makes ", part)
	}
	s, err := m.Scenarios[at].Making(m, part, plant)
	if err != nil {
		t.Fatal(err)
	}
	p, ds := m.Compile(s, costmodel.CompileOptions{})
	if p == nil {
		t.Fatal(ds)
	}
	d := p.Detail(volume)
	sc, pt := d.Scenario(), d.Product()
	piece := func(element string) float64 {
		for _, e := range m.Schema.Elements {
			if e.Name == element {
				return sc.Must(e.PieceName())
			}
		}
		t.Fatal("no element ", element)
		return 0
	}
	nan := math.NaN()
	r := refModel{material: piece("material"), scrap: piece("scrap_credit"), purchased: piece("purchased_parts"), tools: sc.Must("tooling_investment"),
		overhead: piece("overhead") + piece("working_capital"), gross: pt.Must("gross_mass"), net: pt.Must("net_mass_of_this_level"),
		labourRate: nan, machineRate: nan, days: nan, shiftHours: nan, dayHours: nan, materialPrice: nan, extras: nan, scrapPrice: nan}
	for _, e := range []string{"outside_processing", "consumables", "energy", "labour", "equipment", "building", "maintenance"} {
		r.process += piece(e)
	}
	kept, longest := 1.0, 0.0
	for _, op := range d.Entries("operation") {
		r.overhead -= 0.12 * op.Must("tooling") / volume // fixed overhead of the sample's plant
		r.fixed += op.Must("machine_step_cost") + op.Must("crew_step_cost")
		kept *= 1 - op.Must("reject_rate")
		if c := op.Must("cycle_time") / op.Must("pieces_per_cycle"); c > longest {
			longest = c
			if at, ok := op.Follow("plant"); ok && plant != "" {
				r.labourRate, r.days, r.shiftHours = at.Must("direct_labour_rate")*3600, at.Must("working_days"), at.Must("paid_hours_per_shift")/3600
				r.dayHours = at.Must("shift_time") / 3600
				machine, _ := op.Follow("machine")
				r.machineRate = machine.Must("machine_hour_rate") * 3600
			}
		}
	}
	r.cycle, r.reject = longest, 1-kept
	r.sga = (r.material + r.scrap + r.purchased + r.process + r.overhead) * (1.05*1.05 - 1) // the sample's 5 % each
	if grade, ok := pt.Follow("material"); ok {
		r.grade, r.materialPrice, r.scrapPrice = grade.Record().Key, grade.Must("price"), grade.Must("scrap_price")
		r.extras = r.materialPrice - grade.Must("base_price")
	}
	return r
}

// readRefQuotes reckons all quotes of the sheets.
func readRefQuotes(t testing.TB, s quoteSheets, m *costmodel.Model) (out []*refQuote) {
	t.Helper()
	head := s["quote_lines.csv"][0]
	for _, key := range s["quotes.csv"][0][3:] {
		q := &refQuote{sheets: s, key: key, chain: map[int][2]float64{}}
		for _, row := range s["quote_lines.csv"][1:] {
			if row[0] == key {
				l := refLine{}
				for i, heading := range head {
					name, _, _ := strings.Cut(heading, " [") // which says the unit that the reference has too
					l[name] = row[i]
				}
				q.lines = append(q.lines, l)
			}
		}
		q.rate = s.worth(t, s.in(key, "Currency"))
		q.i, q.l = 0.09, or(q.num(t, "Request", "Programme life"), 6) // the sample's Case
		if v := q.num(t, "Request", "Interest rate"); !math.IsNaN(v) {
			q.i = v / 100
		}
		q.n = refNumber(t, s.in("Request", "Annual volume"))
		q.crf = crf(q.i, q.l)
		q.askedPackaging, q.askedFreight = or(q.num(t, "Request", "Packaging"), 0), or(q.num(t, "Request", "Freight"), 0)
		part := s.in(key, "Part")
		if part == "" {
			part = s.in("Request", "Part")
		}
		q.model = refModelOf(t, m, part, refNumber(t, s.in(key, "Annual volume")), s.in(key, "Plant"))
		q.reckon(t)
		out = append(out, q)
	}
	return out
}

// step notes a change and where the amount then stands.
func (q *refQuote) step(number int, change, sum float64) float64 {
	q.chain[number] = [2]float64{change, sum}
	return sum
}

// reckon goes the thirteen steps.
func (q *refQuote) reckon(t testing.TB) {
	nan := math.NaN()
	own := func(name string) float64 { return q.num(t, q.key, name) }
	asked := func(name string) float64 { return q.num(t, "Request", name) }
	amount := func(l refLine) float64 { return l.amount(t) }
	kg := func(l refLine) float64 { return l.kg(t) }
	q.unit = or(own("Price unit"), 1)
	q.price = own("Price") / q.unit
	q.step(1, nan, q.price)
	q.step(2, is(len(q.lines) > 0, q.price-or(q.sum(amount, elementsInPrice...), 0)), nan)
	x := q.step(3, nan, q.price*q.rate)
	q.tools = or(own("Tools in price"), q.sum(amount, "tooling"), 0)
	q.after4 = q.step(4, -q.tools*q.rate, x-q.tools*q.rate)

	q.gross = or(q.sum(kg, "material"), q.model.gross)
	q.offal = or(q.sum(kg, "scrap credit"), math.Max(q.gross-q.model.net, 0))
	months := refMonths(t, q.sheets.in(q.key, "Price month"))
	for _, name := range []string{"Base month", "Quote date"} {
		if months == nil {
			months = refMonths(t, q.sheets.in(q.key, name))
		}
	}
	then := refMonths(t, q.sheets.in("Request", "Price month"))
	q.base, q.scrap = q.sheets.listPrice(t, q.model.grade, months, 2), q.sheets.listPrice(t, q.model.grade, months, 3)
	q.baseAsked, q.scrapAsked = q.sheets.listPrice(t, q.model.grade, then, 2), q.sheets.listPrice(t, q.model.grade, then, 3)
	if math.IsNaN(q.baseAsked - q.base) {
		q.open = append(q.open, "step 5")
	}
	counts := q.sheets.in(q.key, "Scrap") == "netted" || q.has("scrap credit")
	metal := q.gross * (q.baseAsked - q.base)
	material := or(metal-is(counts, q.offal*(q.scrapAsked-q.scrap)), metal, 0) // a list may have no prices of scrap
	x = q.step(5, material, q.after4+material)

	volume := own("Annual volume")
	change := q.model.fixed * (1/q.n - 1/volume)
	if volume != q.n {
		change = or((own("Price at "+q.sheets.in("Request", "Annual volume"))-own("Price"))/q.unit*q.rate, change)
	}
	q.after6 = q.step(6, change, x+change)

	x = q.deliver(t, q.after6)
	packed := q.sheets.in(q.key, "Packaging") == "included" || q.has("packaging")
	change = is(!packed, or(own("Packaging")*q.rate, asked("Packaging"), 0))
	x = q.step(8, change, x+change)
	q.payment = -q.i * (or(own("Payment days"), asked("Payment days"), 0) - or(asked("Payment days"), 0)) / 365 * q.after6
	x = q.step(9, q.payment, x+q.payment)
	days := or(own("Transit days"), q.lane(t, 4), asked("Transit days"), 0) + or(own("Safety stock days"), asked("Safety stock days"), 0)
	x = q.step(10, x*q.i*days/365, x*(1+q.i*days/365))

	q.payTools(t)
	tools := (q.paid + q.missing + q.pv) * q.crf / q.n
	q.step(11, tools, nan)
	reduced := q.after6
	if q.sheets.in(q.key, "Reduction base") == "value added" {
		reduced -= or(q.sum(amount, "material", "scrap credit", "purchased parts"), 0)*q.rate + material
	}
	reduction := (q.reduced(or(own("Yearly reduction"), 0)/100, or(own("Reduced from year"), 2)) - 1) * reduced
	q.step(12, reduction, nan)
	once := or(own("One-off costs"), 0) * q.rate
	q.levelised = x + tools + reduction + once*q.crf/q.n
	q.step(13, once*q.crf/q.n, q.levelised)
	q.cash = q.paid + once
}

func (q *refQuote) has(element string) bool {
	return slices.ContainsFunc(q.lines, func(l refLine) bool { return l["Element"] == element })
}

// term is the delivery term of a column, the request's where the quote names none.
func (q *refQuote) term(column string) string {
	for _, c := range []string{column, "Request"} {
		if text := q.sheets.in(c, "Delivery term"); text != "" {
			return text
		}
	}
	return "DAP"
}

// deliver is step 7: what only the request's term includes is added, what only the quote's includes is taken off.
func (q *refQuote) deliver(t testing.TB, x float64) float64 {
	own := [4]bool{}
	asked := [4]bool{}
	own[0], own[1], own[2], own[3] = refIncludes(q.term(q.key))
	asked[0], asked[1], asked[2], asked[3] = refIncludes(q.term("Request"))
	change, dutiable := 0.0, x
	for at, name := range []string{"Loading and export", "Freight", "Insurance"} {
		said := q.num(t, q.key, name) * q.rate
		if said == 0 && !own[at] {
			said = math.NaN() // left to the buyer: not stated
		}
		lane := math.NaN()
		if name == "Freight" {
			lane = q.lane(t, 2)
		}
		v := or(said, lane, q.num(t, "Request", name), 0)
		if name == "Freight" {
			q.freight = v
		}
		included := q.sheets.in(q.key, name) == "included" || name == "Freight" && q.has("freight")
		if name == "Freight" && asked[at] && !own[at] && !included && math.IsNaN(or(said, lane, q.num(t, "Request", name))) {
			q.open = append(q.open, "step 7")
		}
		if at > 0 && !own[at] && !included {
			dutiable += v // of a piece with its freight and insurance, each once
		}
		if !included {
			change += is(asked[at] && !own[at], v) - is(own[at] && !asked[at], v)
		}
	}
	duty, amount := q.num(t, q.key, "Duty")/100, math.NaN()
	if q.sheets.unit("Duty") == "currency" {
		duty, amount = math.NaN(), duty*100*q.rate
	}
	if duty == 0 && !own[3] {
		duty = math.NaN()
	}
	change += is(!own[3] && q.sheets.in(q.key, "Duty") != "included", or(amount, or(duty, q.lane(t, 3)/100, q.num(t, "Request", "Duty")/100, 0)*dutiable))
	return q.step(7, change, x+change)
}

// payTools is what step 11 takes: paid, missing sets, and the worth of what is paid with the pieces.
func (q *refQuote) payTools(t testing.TB) {
	own := func(name string) float64 { return q.num(t, q.key, name) }
	q.paid = or(own("Tools paid"), 0) * q.rate
	pieces := or(own("Tool pieces"), q.n*q.l)
	if years := pieces / q.n; q.i == 0 {
		q.pv = q.tools * q.rate * pieces
	} else if years == math.Trunc(years) {
		for k := range int(years) {
			q.pv += q.tools * q.rate * q.n / math.Pow(1+q.i, float64(k+1))
		}
	} else { // a year in part has no year by year
		q.pv = q.tools * q.rate * q.n * (1 - math.Pow(1+q.i, -years)) / q.i
	}
	missing, lines := 0.0, 0
	for _, l := range q.lines {
		if l["Element"] == "tool" {
			sets := l.num(t, "Quantity")
			missing += math.Max(math.Ceil(q.n*q.l/l.num(t, "Life")-1e-9)-sets, 0) * l.num(t, "Amount") / sets
			lines++
		}
	}
	q.sets = math.Ceil(q.n*q.l/own("Tool life") - 1e-9)
	sets := own("Tool sets")
	q.missing = or(math.Max(q.sets-sets, 0)*q.paid/sets, 0)
	if lines > 0 && !math.IsNaN(missing) {
		q.missing = missing * q.rate
	}
}

// reduced is the levelised factor of a yearly reduction, year by year.
func (q *refQuote) reduced(a, from float64) float64 {
	paid, worth := 0.0, 0.0
	for t := 0.0; t < q.l; t++ {
		v := math.Pow(1+q.i, -t-1)
		paid += math.Pow(1-a, math.Max(0, t+2-from)) * v
		worth += v
	}
	return paid / worth
}

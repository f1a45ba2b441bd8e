package scenarios

import "math"

// Operations that another firm does.

// outside tells whether a step is done by another firm.
func (s *longStep) outside() bool {
	return s.cells["process"] == "outside processing" || s.cells["process"] == "subcontracted operation"
}

// nobody is the machine of a step that is done elsewhere: it costs nothing, is no machine of the case, and nobody stands at it.
func (c *longhand) nobody(plant string) *longMachine {
	m := &longMachine{longRow: newLongRow("machine", "", map[string]string{"price": "0", "economic_life": "1"}), plant: c.plants[plant]}
	m.rates()
	m.number["setup_time"] = 0
	return m
}

// paidOutside is what another firm is paid in a year: lot by lot, all of the same size, each at least at the minimum.
func (s *longStep) paidOutside() float64 {
	if !s.outside() {
		return 0
	}
	lots, sent := s.of("batches"), s.of("produced_quantity")
	each, least := s.must("price_per_piece"), s.in("minimum_lot_charge", 0)
	lot := math.Max(sent/lots*each, least)
	full := each * s.of("batch_size")
	s.check("a full lot costs less than the minimum lot charge; larger lots would be cheaper", least <= full)
	charged := s.is("lot_charges", lots*lot)
	return charged + lots*s.in("transport_per_lot", 0) + sent*s.in("transport_per_piece", 0)
}

package scenarios

import "math"

// batchSizes finds for each step of a part the batch at which set-ups and the interest of what lies in stock cost least together: half
// a batch lies there on the mean, so that a year costs setup x pieces / batch + interest x value x batch / 2, whose derivative is 0 there.
func (c *longhand) batchSizes(p *longPart) {
	spent := 0.0
	for _, s := range p.steps {
		spent += s.of("annual_cost")
		joined := 0.0
		for _, l := range p.children {
			if s.joinedBy(l) {
				joined += l.of("child_cost")
			}
		}
		value := s.is("piece_value", (s.is("route_cost", spent)+joined)/s.of("good_quantity"))
		held := s.is("holding_cost_per_piece", s.plant.of("interest_rate")/100*value)
		each := s.of("setup_cost")
		if s.outside() {
			each = s.of("batches") * s.of("transport_per_lot")
		}
		each = s.is("cost_per_setup", each/s.of("batches")+s.of("startup_scrap")*value)
		best := 0.0
		if held > 0 {
			best = math.Sqrt(each * s.of("produced_quantity") / (held / 2))
		}
		s.is("economic_batch_size", best)
	}
}

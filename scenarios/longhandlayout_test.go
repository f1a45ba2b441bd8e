package scenarios

import "math"

// How a part lies in what is bought for it: the width of a bent section, the layout of blanks on a strip, of tubes in their stock.

// laidOut takes the sizes of a part that is cut from a grade and returns its nesting utilisation in percent.
func (p *longPart) laidOut() float64 {
	switch p.cells["form"] {
	case "sheet", "coil", "blank", "profile":
		p.flatSizes()
	case "blank from coil", "strip layout":
		p.flatSizes()
		return p.stripLayout()
	case "tube":
		p.must("gauge")
		p.must("blank_length")
	case "tube from stock":
		p.must("gauge")
		stock, piece := p.in("stock_length", 6000), p.must("blank_length")
		pieces := p.is("pieces_per_stock", math.Floor((stock-p.in("end_loss", 120))/(piece+p.in("kerf", 2.5))))
		p.check("the stock is shorter than the piece with its cut and end loss", pieces >= 1, pieces)
		return p.in("nesting_utilisation", 100*pieces*piece/stock)
	case "strip":
		p.must("gauge")
	}
	return p.in("nesting_utilisation", 100)
}

// flatSizes of a blank: a bent section is as wide as its straight lengths and the arcs at the depth that keeps its length.
func (p *longPart) flatSizes() {
	gauge := p.must("gauge")
	p.must("blank_length")
	radius := p.in("bend_radius", gauge)
	depth := 0.5
	if radius/2 < gauge {
		depth = 0.33
	}
	arcs := math.Pi / 180 * p.must("total_bend_angle") * (p.in("k_factor", depth)*gauge + radius)
	p.in("blank_width", p.is("developed_width", arcs+p.must("straight_legs")))
}

// stripLayout returns the share of the strip that becomes blanks, in percent.
func (p *longPart) stripLayout() float64 {
	gauge, long, wide := p.of("gauge"), p.of("blank_length"), p.of("blank_width")
	rows := p.is("pieces_per_pitch", p.in("rows", 1))
	bridge, web := math.Max(1.5, gauge), wide*3/200+gauge
	if p.in("cut_off", 0) > 0 {
		bridge, web = 0, 0
	}
	bridge, web = p.in("bridge", bridge), p.in("edge_web", web)
	pitch := p.is("pitch", bridge+long-p.in("nesting_overlap", 0))
	strip := p.is("strip_width", 2*web+rows*(wide+bridge)-bridge)
	return p.in("nesting_utilisation", p.in("contour_share", 100)*rows*long*wide/(strip*pitch))
}

// orPart takes a number of the step, else that of its part, else what holds where the part has none.
func (s *longStep) orPart(name string, otherwise float64) float64 {
	if v := s.its(name); !math.IsNaN(v) {
		otherwise = v
	}
	return s.in(name, otherwise)
}

package scenarios

import "math"

// How a part lies in what is bought for it: the width of a bent section, the layout of blanks on a strip, of tubes in their stock.

// laidOut takes the sizes of a part that is cut from a grade and returns its nesting utilisation in percent.
func (p *longPart) laidOut() float64 {
	switch p.cells["form"] {
	case "sheet", "coil", "blank", "profile":
		p.flatSizes()
	case "blank from sheet":
		p.flatSizes()
		return p.sheetLayout()
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

// sheetLayout returns the share of a bought sheet that becomes blanks, in percent: whole blanks side by side, all lying one way.
func (p *longPart) sheetLayout() float64 {
	long, wide, web := p.of("blank_length"), p.of("blank_width"), p.in("edge_web", 10)
	bridge := p.in("bridge", math.Max(5, p.of("gauge")+p.of("gauge")))
	length, width := p.in("sheet_length", 3000), p.in("sheet_width", 1500)
	fit := func(side, piece float64) float64 { return math.Floor((side - web - web + bridge) / (piece + bridge)) }
	pieces := math.Max(p.is("pieces_along", fit(length, long)*fit(width, wide)), p.is("pieces_turned", fit(length, wide)*fit(width, long)))
	p.is("pieces_per_sheet", pieces)
	p.check("the sheet is smaller than the blank with its edges", pieces >= 1, pieces)
	return p.in("nesting_utilisation", 100*pieces*long*wide/length/width)
}

// drawn keeps what the drawing of a part says of its holes and bends, as far as it is given.
func (p *longPart) drawn() {
	for _, name := range []string{"holes", "hole_diameter", "bends", "centreline_radius", "total_bend_angle", "overall_length", "overall_width"} {
		if p.cells[name] != "" {
			p.must(name)
		}
	}
}

// contour returns the length in mm of outline and holes of a part, NaN where a number that it takes is not given.
func (p *longPart) contour() float64 {
	outline := p.is("outline", 2*p.of("blank_length")+2*p.of("blank_width"))
	round := 0.0
	if p.numberOf("holes") != 0 {
		round = math.Pi * p.numberOf("hole_diameter") * p.numberOf("holes")
	}
	return outline + p.is("hole_perimeter", round)
}

// numberOf returns a number found before, NaN where there is none.
func (r *longRow) numberOf(name string) float64 {
	if v, ok := r.number[name]; ok {
		return v
	}
	return math.NaN()
}

// orPart takes a number of the step, else that of its part, else what holds where the part has none.
func (s *longStep) orPart(name string, otherwise float64) float64 {
	if v := s.its(name); !math.IsNaN(v) {
		otherwise = v
	}
	return s.in(name, otherwise)
}

package scenarios

// Counts of a product: its parts and pieces, the joints, operations and tools that it takes.

// count reckons how often the parts of the product are in it, and what is counted by them.
func (c *longhand) count() {
	parts, pieces, joints, operations, tools := 0.0, 0.0, 0.0, 0.0, 0.0
	for _, p := range c.usedParts() {
		one, n := 0.0, c.piecesOf(p)
		if p.of("net_mass_of_this_level") > 0 || p.of("purchase_price") > 0 {
			one = 1
		}
		parts += p.is("part_count", one)
		pieces += p.is("piece_count", n*one)
		for _, s := range p.steps {
			joints += s.is("joint_count", n*(s.of("joints")+s.seams)/s.of("pieces_per_cycle"))
			operations += s.is("operation_count", 1)
			tool := 0.0
			if s.of("tool_price") > 0 {
				tool = 1
			}
			tools += s.is("tool_count", tool)
		}
	}
	r := c.scenario
	r.is("part_count", parts)
	r.is("piece_count", pieces)
	r.is("joint_count", joints)
	r.is("operation_count", operations)
	r.is("tool_count", tools)
}

// piecesOf is how many of a part are in one product: up the bill to the product, once for each way.
func (c *longhand) piecesOf(p *longPart) float64 {
	if v, ok := p.number["pieces_per_product"]; ok {
		return v
	}
	n := 0.0
	if p == c.product {
		n = 1
	}
	for _, l := range p.uses {
		n += l.is("pieces_per_product", l.of("quantity")*c.piecesOf(l.parent))
	}
	return p.is("pieces_per_product", n)
}

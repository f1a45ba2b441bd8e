package study

// mark finds the least cost, also of those of which everything is known, and the front of cost against mass, among the cells that pass.
func (t *Trial) mark() {
	var all []*TrialCell
	for i := range t.Cells {
		for k := range t.Cells[i] {
			if c := &t.Cells[i][k]; c.Passes() && c.Costed() {
				all = append(all, c)
			}
		}
	}
	var least, sure *TrialCell
	for _, c := range all {
		if least == nil || c.PieceCost < least.PieceCost {
			least = c
		}
		if len(c.Open) == 0 && (sure == nil || c.PieceCost < sure.PieceCost) {
			sure = c
		}
		c.Front = true
		for _, o := range all {
			if o.PieceCost <= c.PieceCost && o.NetMass <= c.NetMass && (o.PieceCost < c.PieceCost || o.NetMass < c.NetMass) {
				c.Front = false
			}
		}
	}
	if least != nil {
		least.Least = true
	}
	if sure != nil {
		sure.Sure = true
	}
}

// Marked is the first cell of which something holds; nil for none.
func (t *Trial) Marked(is func(TrialCell) bool) *TrialCell {
	for i := range t.Cells {
		for k := range t.Cells[i] {
			if is(t.Cells[i][k]) {
				return &t.Cells[i][k]
			}
		}
	}
	return nil
}

package live

import "piececost/costmodel/units"

// A level in degF needs more than a factor. It is read as a coherent number, the level in degC, as soon as its cell is named, so that
// what is made of it knows nothing of Fahrenheit's zero, and turned back where a column shows it.

// shown turns a coherent value into the number of a cell of the column.
func (c *Column) shown(coherent float64) float64 {
	return units.Unit{Factor: c.Factor, Zero: c.Zero}.Shown(coherent)
}

// read is a cell of the column.
func (c *Column) read(text string, prec int) term {
	return read(text, prec, units.Unit{Factor: c.Factor, Zero: c.Zero})
}

// read is a formula whose value is a number in a unit.
func read(text string, prec int, u units.Unit) term {
	t := term{text: text, prec: prec, factor: u.Factor}
	if u.Zero == 0 {
		return t
	}
	t = scaled(term{text: wrap(t, precSum) + "-" + number(u.Zero), prec: precSum}, u.Factor)
	t.factor = 1
	return t
}

// written is a term as the column shows it.
func (c *Column) written(t term) term {
	t = scaled(t, t.factor/c.Factor)
	if c.Zero == 0 {
		return t
	}
	return term{text: wrap(t, precSum) + "+" + number(c.Zero), prec: precSum}
}

// same reads a cell that a column links to: as it stands where both have one scale, so that nothing is turned there and back.
func (c *Column) same(text string, u units.Unit) term {
	if u.Zero != 0 && u.Zero == c.Zero && u.Factor == c.Factor {
		return term{text: text, prec: precAtom}
	}
	return c.written(read(text, precAtom, u))
}

// Package kernel runs a compiled program over columns of float64, a block of lanes at a time.
//
// A lane is one case to compute (an annual volume, a random draw); a column holds one quantity for every lane of the
// block. A Program is a list of operations, each a plain loop from columns to a column; a Scratch owns the columns, so
// that running a block allocates nothing. A Program may be shared, a Scratch may not. Values are coherent (package
// units); NaN and infinities pass through and are the caller's to report.
package kernel

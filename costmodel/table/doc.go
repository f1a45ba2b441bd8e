// Package table is a workbook's input as data: tables of cells as they stand, each with its place, and the findings about
// them. It is a leaf: it knows no model, no equation, no unit and no workbook format, so that whoever reads cells, or says
// what is wrong with one, needs nothing else.
//
// Here is changed: which input sheets there are, in which order, and what their columns are called (layout.go), which words
// some of them may hold (words.go); how a heading is read as a name (heading.go); what a cell can hold (value.go); how a
// place is written (place.go); what a finding consists of and how it reads on a line (diagnostic.go), in which order
// findings stand and how many are kept (diagnostics.go); how much of a user's own text a message repeats (shorten.go).
package table

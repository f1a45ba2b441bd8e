// Package term is a terminal's words: what a table, a plot, a number, a long line and the progress of work look like on it.
//
// Change here: the width of the output (width.go), the room for labels and headings of a table (blocks.go), where a text
// breaks (wrap.go), how a number, a volume or "3 inputs" is written (numbers.go), how long a name may be and how it is cut
// (names.go), the size of a plot (plot.go) and of a map of letters (grid.go), when and how progress is told (progress.go).
//
// It knows nothing of costs, scenarios and cases; what is printed with it is said in package report.
package term

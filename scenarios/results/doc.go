// Package results makes the result sheets of a run, one file a sheet: each links to the calculations, which package live
// builds. results.go lists the sheets in their order; a sheet takes a page of package sheet and fills it.
//
// Change here what a result sheet says, its columns, widths and charts, and which sheets there are.
package results

// Package costmodel is the cost engine: a case in, the cost of a piece out, operation by operation, at any volume.
//
// Data takes one road. A table.Case is data: tables of cells as they stand in a workbook, each with its place. New reads it
// against a Library (the equations, forms and processes of templates/) into a Model, with everything that is wrong in a
// list of Diagnostics. Compile makes, for one scenario, a Plan that is immutable and safe to share; Sweep and Detail run
// it. No equation of the model is in Go: this package builds the structure (which row relates to which) and package plan
// computes. Values are coherent (package units) until a Statement turns money into decimals.
//
// The package knows no workbook format, no terminal and no file.
package costmodel

// Package live writes a compiled scenario as spreadsheet formulas: blocks of rows and columns in which every quantity has
// one home cell, each formula made from the very equation the engine computed, tracing cell by cell to the input sheets.
//
// It knows addresses and formula text but no spreadsheet library: a Sheet is data that package scenarios writes. Each
// cell carries its value. A column is shown in the unit its quantity is declared in (shares as fractions); unit factors
// are put into the formulas here, never into the equations. Nothing is a range over cells that depend on it: a relation
// to many rows becomes a running sum in an order that has no circle, or a SUMIFS over a column that does not read it.
package live

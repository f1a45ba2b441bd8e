// Package starter makes the workbook that a case is typed into, and fills it from CSV tables: input sheets with headings,
// units, notes and drop-downs, the guide before them, and the import that puts a table's columns where they belong.
//
// Change here how an input sheet looks and what it offers, what the guide says, and how a CSV value becomes a cell. Which
// input sheets there are stands in costmodel/table/layout.go.
package starter

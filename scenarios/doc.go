// Package scenarios is the workbook front end: it reads a scenario workbook into a costmodel.Case, and makes and writes
// workbooks. It is the only package that knows a spreadsheet library. A cell's value comes out as it stands, with its
// place; what it means is decided in costmodel.
package scenarios

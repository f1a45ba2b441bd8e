// Package scenarios is the workbook front end, and the facade of the rooms below it: Open and Case read a scenario workbook
// into a table.Case, Write puts the result sheets into it, Save replaces the file; Starter and Import make and fill a
// new one. What a sheet says is in results, how it is built in sheet, what a person did in it in handedits, what is typed
// into in starter.
//
// Change here what happens to a workbook as a file: the order of the steps, what it may be saved as, locks.
package scenarios

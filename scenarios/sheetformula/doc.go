// Package sheetformula reads the formulas of spreadsheets as they stand in files (ECMA-376 part 1, 18.17: English names,
// commas, A1 references): it cuts them into tokens and their references into sheets, rows and columns. It computes nothing
// and never fails: what no spreadsheet program writes becomes names and operators.
package sheetformula

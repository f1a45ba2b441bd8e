// Package seal tells whether a formula or number of a result sheet is still as it was written. A formula is compared token
// by token, references by the cell that they meant when they were written, so that inserted rows and columns, renamed
// sheets and the rewriting that a spreadsheet program does when it saves are no change. It knows no workbook: cells are
// addressed by sheet name, row and column, and a Move says where a cell stood before.
package seal

// Package lint looks for weak spots in any workbook of an estimator, also one that the program did not make: numbers
// inside formulas, formulas that break the pattern of their line, units mixed in a column, inputs that nothing reads, and
// what hides from a reader. It reads a package through scenarios/ooxml and changes nothing. In goes an .xlsx or .xlsm
// file, out comes a Report: findings with a stable code (Kinds), the cell, what is wrong, why it matters, what to do;
// sorted by sheet, row and column, equal ones side by side told as one. The rules, chosen so that a clean workbook has
// no finding:
//
//   - constant-in-formula: a number other than 0, 1, 100, 12, 24, 60, 1000, 3600 (by value: 100% is 1, 1% is not), unless
//     it is an exponent, or in an argument that says which, how many figures or what kind (functions.go: the positions
//     of INDEX and VLOOKUP, the figures of ROUND). A formula of numbers only counts too: its numbers want cells.
//   - pattern-break: a formula, or a typed number, that stands alone in a column or row between equal formulas, 3 or more
//     on one side and 2 or more on the other. Equal is: the same as seen from the cell. Meant, and not told: a formula
//     that is copied at a right angle to the line, a sum over a part of the line, 3 or more such typed numbers side by
//     side.
//   - mixed-units: a cell with a unit, in its text (0.5 in) or its number format (0.0" in"), that differs from the unit in
//     brackets of its heading, or, without one, from most of its column. A column of several dimensions is a list of
//     quantities and not compared; numbers of things and % have no unit here.
//   - unused-input: a typed number in a column (or, where numbers stand alone in their columns, a row) of typed numbers
//     that no formula reads, where formulas read at least 3 of the others and twice as many as they leave out. So a column
//     of keys, notes or plans of which nothing is read is no finding; nor are lines that count (10, 20, 30), dates and
//     headings. Charts, rules, drop-downs, pivot tables and result sheets read too. With macros, OFFSET, INDIRECT or a
//     range that is computed (A1:INDEX(...)) nobody can tell, and nothing is said.
//   - error-value: an error that begins in the cell; cells that only pass it on are not told, nor #N/A of a call of NA().
//   - number-as-text: a text that is a number: below a number; above one and between two; in the range of a sum; or beside
//     an arithmetic sign. With leading zeros it is a key.
//   - hidden-rows, hidden-columns, hidden-sheet: with content. A closed group is hidden too, and said to be one.
//   - external-link, broken-reference: through defined names as well.
//   - volatile-function, long-formula (more than 300 characters), deep-nesting (brackets more than 7 deep),
//     similar-sheet-names.
//
// Sheets that a run of the program wrote are made by machine and left out, and the report names them. On the program's own
// input sheets mixed-units and unused-input are left out: the program converts units and reads every cell itself.
package lint

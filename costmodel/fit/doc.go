// Package fit finds the coefficients of a relation that is linear in them from past data: what tools, machines or parts have
// cost, and the figures that explain it. It is a leaf: numbers and labels come in, numbers and sentences go out; no model, no
// workbook, no unit is known here.
//
// A Problem lists coefficients (an intercept is one like any other: its column is 1 in every row) and rows. Fit minimises the
// sum of squares of the relative errors, since prices span decades, or of the absolute ones if asked; some coefficients may be
// held at a value, some must not become negative. What can't be answered is refused, every reason at once (Refused); what is
// answered with a doubt carries Warnings. Both name coefficients and rows as the caller labelled them, and by index.
//
// The way: rows are weighted, columns scaled by powers of two (check.go, system.go); a QR factorization with column pivoting
// (factor.go; Householder, gonum's lapack64) finds columns that the others make up (dependent.go), condition indexes those that
// they nearly make up (collinear.go); an active set finds which bounds hold (nnls.go); what is left is plain least squares
// (solution.go), with standard errors and Student's intervals (estimates.go), the influence of each row (rows.go) and the error
// on a row that was left out (leaveout.go). No normal equations are formed.
//
// Standard errors, intervals, leverages and Cook's distances of a fit with coefficients at their bound are those of the other
// coefficients, as if the ones at the bound had been left out from the start: the usual reading, and a lenient one.
//
// Sources: C. L. Lawson, R. J. Hanson, Solving Least Squares Problems (1974), chapter 23, for the active set; D. A. Belsley,
// E. Kuh, R. E. Welsch, Regression Diagnostics (1980), for leverage and condition indexes; R. D. Cook,
// Technometrics 19 (1977), for the distance.
package fit

// Package study answers what is asked of costed scenarios: how they compare, what a saved kilogram costs, which is
// cheapest at which volume. It computes nothing that the plan does not give and formats nothing for a terminal or sheet;
// sentences are in words because their cases are. Money is in model currency per good piece, mass in kg, volume in 1/yr.
//
// What may take long has a context as its first parameter and returns its error once that is done.
package study

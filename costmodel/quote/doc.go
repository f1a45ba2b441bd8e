// Package quote answers what a purchaser asks of quotes: what each comes to on equal terms, how it stands against the should-cost at the
// supplier's own terms, which numbers in it do not fit together, and what to ask him. Every step and rule is text under
// templates/quotes; what is read here is what its language can't state: dates, digits as they were printed, medians of the other quotes,
// prices of a month, and the figures of the should-cost. It formats nothing for a terminal or sheet. Money is in the model currency for a
// good piece, mass in kg, volume in 1/yr.
package quote

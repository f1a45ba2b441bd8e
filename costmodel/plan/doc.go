// Package plan turns quantities that name each other into a compiled plan: names to order, order to a program.
//
// It sees a Graph: rows (entities) of some scope, each with numbered quantities, a Definition for each, and relations
// between rows. Compile walks from the wanted cells (a cell is one quantity of one row) down to the inputs. What depends
// on nothing that varies becomes a number at once. What varies is kept as a Linear, a constant plus multiples of columns,
// as long as it is linear, so that a chain of rejects or a sum of costs is one number a volume and not a hundred; only
// ceil, max, products of two varying quantities and the like become columns of their own (registers).
//
// A Compiled is immutable and safe to share. Program picks the operations that given cells need and assigns columns;
// Values computes every cell once, for explaining and printing. Everything a person reads is made from the Compiled, so it
// can't differ from what was computed. Values are coherent (package units).
package plan

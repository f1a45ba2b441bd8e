// Package formula is the language in which every equation of the model is written: text in, a checked expression with
// units and positions out.
//
// The grammar is the arithmetic, comparison, logic and conditional of github.com/expr-lang/expr (only its parser is
// used), numbers, dotted names, the functions of the table in functions.go, and quantities as text literals ("5 mm").
// Everything else that parser knows is refused with a reason, and so is what reads one way here and another way in a
// spreadsheet program: -a^b, a^b^c, a<b<c.
//
// Parse gives an *Expr; Check (once, with an Env that says what each name measures) finds dimension errors and gives bare
// numbers in a user's cell the unit of their context; Eval is the plain scalar reading of the language. Positions
// are counted in characters from 0, From inclusive, To exclusive. Values are coherent (package units); a condition is
// 1 or 0.
package formula

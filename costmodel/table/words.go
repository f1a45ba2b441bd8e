package table

// Directions are the words of the column Direction of the sheet Targets.
var Directions = []string{"at most", "at least"}

// Distributions are the words that the column Distribution of the sheet Uncertainty may hold.
var Distributions = []string{"triangular", "PERT", "lognormal", "uniform", "discrete"}

// OverrideColumns are the headings of the sheet Overrides, in the order in which it is made.
var OverrideColumns = []string{"Scenario", "Sheet", "Row", "Column", "Value", "State", "Edited cell", "Source", "Owner", "Note"}

// InForce is the state of an override that counts; an empty state does too, any other word switches the row off.
const InForce = "in force"

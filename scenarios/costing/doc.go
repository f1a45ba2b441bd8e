// Package costing is the way from a scenario workbook to its costs for any Go program, and the only one: the commands go it
// too. Open reads a workbook (Read one that is no file, Tables a folder of CSV tables), Check finds what is wrong with the
// case, Cost costs its scenarios, and a Result answers by the keys of the sheets: scenarios, parts and operations with their
// elements of cost and quantities, Sweep over annual volumes, Crossovers, Explain; Write makes the studies that have a sheet
// and puts all of it into the workbook as live formulas.
//
// Errors are of three kinds: Diagnostics, where the case is at fault, each with its cell; the error of the context, which
// ends any call soon after it is done, with nothing written; else the file's, or a name that is not there. Money is in the
// currency of the case per good product, volumes are good products per year, other values have their unit beside them. The
// JSON of the commands is in package wire. Forces, pressures and cycle times are for estimating cost only; they defer to
// the machine maker, local safety codes and licensed engineers.
//
// Change here: which studies a run makes (make.go), how much work it spends on one before it leaves it to the study's own
// command (studies.go), and what a study looks at where the sheet Studies does not ask for it (a file of the study's name).
// That is the usual form: the difference of the last scenario to the first, and break-even values for each scenario to cost
// what the first one costs. What a program may ask of a costed case: scenario.go, row.go, curve.go, crossings.go, explain.go.
//
// What a study finds is reckoned in package study; how it stands in the workbook is in package scenarios.
package costing

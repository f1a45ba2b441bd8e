// Package studies makes what a run writes into the workbook: the costs of every scenario, and the studies that have a sheet.
//
// Change here: which studies a run makes (make.go), how much work it spends on one before it leaves it to the study's own
// command (studies.go), and what a study looks at where the sheet Studies does not ask for it. That is the usual form: the
// difference of the last scenario to the first, and break-even values for each scenario to cost what the first one costs.
// A study has a file of its own name.
//
// What a study finds is reckoned in package study; how it stands in the workbook is in package scenarios.
package studies

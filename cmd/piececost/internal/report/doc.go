// Package report is what each command prints: its words and tables for a person, its CSV, its JSON.
//
// Change here: a heading, a column, a sentence of a command's answer. A command has a file of its own name, crossover.go;
// where its answer is long, the CSV is in crossovercsv.go. The JSON form is in crossoverjson.go: its keys are read by other
// people's programs, and its version changes when a key changes its meaning. Words that several
// commands share are in labels.go, the caution in caution.go, the way CSV is written in csv.go.
//
// A report only shows: it is made of the results of packages costmodel, study and lint, and reckons nothing. How a
// terminal shows a table or a number is in package term.
package report

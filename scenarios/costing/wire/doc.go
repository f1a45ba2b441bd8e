// Package wire holds the JSON forms in which the commands answer with --json, as Go types with every field's meaning and
// unit. A program that reads them needs this package alone; Schema prints the same as a JSON Schema, made from these types
// and their comments.
//
// Every answer begins with its format and version (Answer). A version changes when a field goes or changes its name, meaning
// or unit; a field may be added without. Where nothing else is said, money is in the currency of the case per good piece,
// a volume is good products per year, and a number is unrounded.
//
// Change here: a key, its type, its words, the version of a form (forms.go). What fills a form is in the command's report.
package wire

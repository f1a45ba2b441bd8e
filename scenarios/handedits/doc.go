// Package handedits finds what a person did in the result sheets since they were written, and keeps it: changed results go
// into the sheet Overrides and so into the case, remarks and notes go where their rows and columns now are. It knows the
// sheets by the fingerprints on the sheet Formula record, which it writes and reads.
//
// Change here what counts as an edit or as a remark, what is made of it, and the sheets Overrides and Formula record.
package handedits

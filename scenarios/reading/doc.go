// Package reading reads the cells of an open workbook as they stand, with their places: the case from the input sheets, and
// single cells for whoever compares what a person typed. A native formula gives its stored result, or its value where it
// is plain arithmetic. What a cell means is decided in costmodel.
//
// Change here what counts as a number, a date or a broken cell, the limits on what is read, and how files that are no
// workbooks are refused.
package reading

// Package quoteform makes the workbook that a supplier fills in for a quote, and reads it when it comes back, or his own form by a map of
// columns: values with the cells that they stand in, and the tables by which they are imported.
//
// Change here what stands in the form and how it looks, and how a filled one is read. What a supplier is told and asked for stands in
// templates/quotes, under asked: nothing else of the buyer's workbook gets into the form.
package quoteform

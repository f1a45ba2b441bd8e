// Package ooxml reads spreadsheet packages (ECMA-376, .xlsx and .xlsm) in one pass over each sheet: raw value, formula,
// type and style of every filled cell, nothing interpreted. It knows nothing of costs and no spreadsheet library.
//
// A package is a zip of parts. Open reads the workbook part, its relations, styles and shared strings; Read scans one
// sheet. Everything is bounded: what a part may unpack to, the cells of a sheet. A package that can't be read is
// refused with one line that says what it is. Values keep the digits of the file; texts are unescaped.
package ooxml

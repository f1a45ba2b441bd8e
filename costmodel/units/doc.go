// Package units knows dimensions, unit symbols and quantities written as text.
//
// A dimension is a product of whole powers of five bases: length, mass, time, currency and year. Year is a base of its
// own: an accounting period, not 8,760 hours, so that a cost per year divided by pieces per year is a cost per piece and
// leaving one of the two out is found. Pieces are counts and have no dimension; % is 0.01.
//
// Values inside the engine are coherent: metre, kilogram, second, model currency, year. A Unit says how a number as
// written becomes coherent (times Factor). Nothing here is rounded, nothing here knows a workbook.
package units

// Package sheet is how a sheet of ours is built, whatever stands on it: its look, number formats, charts' letters, print
// set-up, names, what spreadsheet programs can bear, and the fingerprints taken of every cell while it is written. A Page
// is filled in any order and streamed at its end, a Stream is written from the top.
//
// Change here how all sheets look or print. What a sheet says belongs to the room that makes it.
package sheet

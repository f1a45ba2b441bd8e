package costmodel

import (
	"fmt"

	"piececost/costmodel/table"
)

// How long the keys of a case may be, in characters: spreadsheet programs look no text of more than 255 up (MATCH gives
// #VALUE!; common practice, no source), and a machine is looked up with its plant, joined by one letter.
const (
	mostInKey    = 255
	mostInJoined = (mostInKey - 1) / 2
)

// keyLengths refuses keys that live formulas could not find. Keys of steps, links and joints are joined of cells: their own cell,
// the step, is checked, the others where they are defined.
func (m *Model) keyLengths(scope string, recs []*Record) {
	most := mostInKey
	switch scope {
	case "link", "joint":
		return
	case "machine", "plant":
		most = mostInJoined
	}
	for _, r := range recs {
		key, at := r.Key, r.Place
		if scope == "operation" {
			key, at = r.Text("operation"), r.TextPlace("operation")
		}
		m.keyLength(key, at, most)
	}
}

// keyLength refuses a key of more than so many characters.
func (m *Model) keyLength(key string, at table.Place, most int) {
	if n := table.Characters(key); n > most {
		m.Diagnostics.Add("key", at, fmt.Sprintf("the key %.20q... has %d characters, more than the %d by which a spreadsheet finds a row", key, n,
			most), "write a shorter key, and the words under Name or Note")
	}
}

package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/table"
)

// claimed is a cell that rows of the sheet Uncertainty name.
type claimed struct {
	record   *Record
	quantity int32
}

// settle gives each cell to the most specific of the rows that name it, as in the sheet Scenarios; a tie is an error.
func (r *uncertainReader) settle() {
	claims := map[claimed][]*uncertainRow{}
	for _, u := range r.read {
		for _, rec := range u.found.records {
			c := claimed{rec, u.found.quantity}
			claims[c] = append(claims[c], u)
		}
	}
	for _, u := range r.read {
		left, lost, tie := u.left(claims)
		switch {
		case tie != nil:
			r.ds.Add("selector", u.at, fmt.Sprintf("%s and %s name the same cell and are equally specific", u.Input, tie.Input),
				"delete one or name the row alone in one of them", table.Related{Place: tie.at, Note: "the other at"})
		case len(lost) > 0 && len(left) == 0:
			r.ds.Add("selector", u.at, fmt.Sprintf("each row that %s names has a more specific row in this sheet", u.Input), "delete this one")
		case len(lost) > 0:
			u.Input = r.narrowed(u, left, lost)
			r.out = append(r.out, u.Uncertain)
		default:
			r.out = append(r.out, u.Uncertain)
		}
	}
}

// left parts the records of a row from those that more specific rows take, and finds an earlier row that is as specific.
func (u *uncertainRow) left(claims map[claimed][]*uncertainRow) (left, lost []*Record, tie *uncertainRow) {
	for _, rec := range u.found.records {
		less, earlier := false, true
		for _, other := range claims[claimed{rec, u.found.quantity}] {
			earlier = earlier && other != u
			less = less || other.rank > u.rank
			if earlier && other.rank == u.rank {
				tie = other
			}
		}
		if less {
			lost = append(lost, rec)
		} else {
			left = append(left, rec)
		}
	}
	return left, lost, tie
}

// keysOf lists the keys of records, each once.
func keysOf(records []*Record) []string {
	var out []string
	seen := map[string]bool{}
	for _, r := range records {
		if !seen[r.Key] {
			seen[r.Key] = true
			out = append(out, r.Key)
		}
	}
	return out
}

// mostListed is how many rows are named one by one where they can't be named by those that are left out.
const mostListed = 8

// narrowed is a row's input without the records that are lost. A selector takes M1 for M1/b as well, and a key may have a
// comma, so the words are kept only where they select just what is left; else they are a name.
func (r *uncertainReader) narrowed(u *uncertainRow, left, lost []*Record) Input {
	joint := " except "
	if strings.Contains(strings.ToLower(u.text), joint) {
		joint = ", "
	}
	in := u.Input
	words := []string{u.text + joint + strings.Join(keysOf(lost), ", ")}
	if keys := keysOf(left); len(keys) <= mostListed {
		words = append(words, strings.Join(keys, ", "))
	}
	for _, in.Row = range words {
		if f, d := r.m.findInput(in); d == nil && slices.Equal(f.records, left) {
			return f.input
		}
	}
	in.rows = r.m.numbersOf(u.found.scope.Name, left)
	return in
}

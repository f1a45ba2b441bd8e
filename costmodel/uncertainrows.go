package costmodel

import (
	"fmt"
	"strings"
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
		lost, tie := u.lost(claims)
		switch {
		case tie != nil:
			r.ds.add("selector", u.at, fmt.Sprintf("%s and %s name the same cell and are equally specific", u.Input, tie.Input), "delete one or name the row alone in one of them", Related{tie.at, "the other at"})
		case len(lost) > 0 && len(lost) == len(keysOf(u.found.records)):
			r.ds.add("selector", u.at, fmt.Sprintf("each row that %s names has a more specific row in this sheet", u.Input), "delete this one")
		default:
			r.out = append(r.out, r.without(u, lost))
		}
	}
}

// lost lists the keys that more specific rows take, and finds an earlier row that is as specific.
func (u *uncertainRow) lost(claims map[claimed][]*uncertainRow) (keys []string, tie *uncertainRow) {
	var taken []*Record
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
			taken = append(taken, rec)
		}
	}
	return keysOf(taken), tie
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

// without takes keys out of a row's selector.
func (r *uncertainReader) without(u *uncertainRow, keys []string) Uncertain {
	if len(keys) == 0 {
		return u.Uncertain
	}
	in := u.Input
	joint := " except "
	if strings.Contains(strings.ToLower(in.Row), " except ") {
		joint = ", "
	}
	in.Row = u.text + joint + strings.Join(keys, ", ")
	if f, d := r.m.findInput(in); d == nil {
		u.Input = f.input
	}
	return u.Uncertain
}

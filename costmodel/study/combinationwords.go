package study

import (
	"fmt"
	"strings"

	"piececost/costmodel"
)

// SameRowWords says what is done with alternatives on the same rows.
func SameRowWords(names []string) string {
	return strings.Join(names, ", ") + ": on the same rows, so one of them is tried"
}

// JoinWords says which of the links that compete are taken.
func JoinWords(o *costmodel.JoinOptions) string {
	switch {
	case o.One:
		return "of " + o.Names() + " one is taken"
	case len(o.Options) == 1:
		return o.Names() + ": an extra, taken or not"
	case !o.Listed:
		return o.Names() + ": extras, any of them taken or none; list one in the scenario if one must be there"
	}
	return o.Names() + ": extras, any of them taken or none"
}

// LeftOutWords says which alternative no combination has.
func LeftOutWords(l costmodel.LeftOut) string {
	return fmt.Sprintf("left out, since its row has an error: %s of %s", strings.Join(l.Tags, ", "), l.Row)
}

package costmodel

import (
	"errors"

	"piececost/costmodel/units"
)

// screeningScope is the scope of the file of screening relations; it has no rows of the model.
const screeningScope = "screening"

// newScreening checks the relations by which a grade and gauge are held against a base. They are equations over each other and their
// inputs, as those of a comparison, without cases.
func newScreening(t *Template, sys *units.System) (*Comparison, error) {
	if t == nil {
		return nil, errors.New("equations: no file has the scope " + screeningScope)
	}
	c := &Comparison{index: map[string]int{}, Caution: t.Caution}
	return c, c.read(t.Items, sys)
}

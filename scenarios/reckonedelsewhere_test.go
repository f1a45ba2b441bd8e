package scenarios

import (
	"slices"
	"testing"

	"piececost/costmodel"
)

// TestEveryProcessIsReckonedElsewhere: each process has longhand or points of testdata/physics/relations.txt, so that a change of it is
// noticed by figures that the engine did not make.
func TestEveryProcessIsReckonedElsewhere(t *testing.T) {
	points := readRelations(t)
	for _, p := range testLibrary(t).Processes {
		if !hasLonghand(p) && len(points[p.Name]) == 0 {
			t.Errorf("%s has neither longhand nor points in %s", p.Name, relationsFile)
		}
	}
	for name := range points {
		if p := testLibrary(t).Find(name); p == nil || p.Name != name {
			t.Errorf("%s names %q, which is no process", relationsFile, name)
		}
	}
}

func hasLonghand(p *costmodel.Template) bool {
	if p.Name == "timed operation" {
		return true
	}
	return slices.ContainsFunc(append(slices.Clone(p.Aliases), p.Name), func(name string) bool { return longProcesses[name] != nil })
}

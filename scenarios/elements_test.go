package scenarios

import (
	"sync"

	"piececost/costmodel"
	"piececost/templates"
)

// libraryElements are the names of the elements of cost in their order.
var libraryElements = sync.OnceValue(func() []string {
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		panic(err)
	}
	var out []string
	for _, e := range lib.Elements {
		out = append(out, e.Name)
	}
	return out
})

// sweepQuantities are what a sweep computes: the piece cost, then the elements a piece.
func sweepQuantities() []string {
	out := []string{"piece_cost"}
	for _, e := range libraryElements() {
		out = append(out, "piece_"+e)
	}
	return out
}

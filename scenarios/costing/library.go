package costing

import (
	"sync"

	"piececost/costmodel"
	"piececost/templates"
)

// Library is the program's own equations, forms and processes, read once. The error is a fault of the program.
var Library = sync.OnceValues(func() (*costmodel.Library, error) { return costmodel.LoadLibrary(templates.Files) })

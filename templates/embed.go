// Package templates holds the equations, the process library, the grades and the starter workbooks as embedded files. They are
// data: text that package costmodel reads and checks. Only the program's commands import it.
package templates

import "embed"

// Files are equations/, forms/, grades/, machines/, processes/, quotes/, samples/ and tools/.
//
//go:embed equations forms grades machines processes quotes samples tools
var Files embed.FS

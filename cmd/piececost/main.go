// Command piececost costs manufactured parts from their process, from a scenario workbook and back into it. One file a
// command holds its flags and printing; everything else is in packages costmodel and scenarios.
package main

import "os"

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

package scenarios

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A lock is the file that a spreadsheet program leaves beside a workbook that it has open.
type lock struct {
	file string
	who  string // "anna on desk-12 since 24.11.2026 22:59", as far as it says; may be empty
}

// findLock looks for both kinds of lock file beside the workbook, and beside the file that a symbolic link leads to.
func findLock(path string) *lock {
	paths := []string{path}
	if target, err := filepath.EvalSymlinks(path); err == nil && target != path {
		paths = append(paths, target)
	}
	for _, p := range paths {
		dir, name := filepath.Split(p)
		for _, l := range []struct {
			file string
			who  func([]byte) string
		}{{".~lock." + name + "#", lockedOnFields}, {"~$" + name, lockedByName}} {
			file := filepath.Join(dir, l.file)
			if info, err := os.Stat(file); err == nil && info.Mode().IsRegular() { // reading a pipe would wait for ever
				return &lock{file, l.who(firstBytes(file, 512))}
			}
		}
	}
	return nil
}

// refusal is the line shown for a workbook that is open elsewhere.
func (l *lock) refusal(path string) error {
	by := ""
	if l.who != "" {
		by = " by " + l.who
	}
	return fmt.Errorf("%s is open in another program%s (%s is there); close it, or write elsewhere with -o; if nobody has it open any more, "+
		"--ignore-lock writes it all the same", path, by, filepath.Base(l.file))
}

// lockedOnFields reads ",user,host,date,profile;" (LibreOffice, as seen).
func lockedOnFields(data []byte) string {
	fields := strings.Split(strings.TrimSuffix(printable(string(data)), ";"), ",")
	if len(fields) < 4 {
		return ""
	}
	who := fields[1]
	if fields[0] != "" {
		who = fields[0]
	}
	if fields[2] != "" {
		who = strings.TrimSpace(who + " on " + fields[2])
	}
	return strings.TrimSpace(who + " since " + fields[3])
}

// lockedByName reads a user's name after a byte with its length (Excel, from its documentation and one file).
func lockedByName(data []byte) string {
	if len(data) < 2 || int(data[0]) == 0 || int(data[0]) >= len(data) {
		return ""
	}
	name := string(data[1 : 1+int(data[0])])
	if !utf8.ValidString(name) {
		return ""
	}
	return strings.TrimSpace(printable(name))
}

// printable drops what a terminal would obey.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return -1
	}, text)
}

func firstBytes(file string, n int) []byte {
	f, err := os.Open(file)
	if err != nil {
		return nil
	}
	defer f.Close()
	data := make([]byte, n)
	got, _ := f.Read(data)
	return data[:got]
}

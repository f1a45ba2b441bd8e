package starter

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"unicode/utf8"
)

// ReadCSV reads a table of a folder, nil where there is no such file. The separator is a comma, or the semicolon or tab
// that the first line has more of: spreadsheet programs of countries with a decimal comma write semicolons (common
// practice, no source).
func ReadCSV(tables fs.FS, name string) ([][]string, error) {
	info, err := fs.Stat(tables, path.Clean(name))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil // a sheet without data
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is a folder, a pipe or a device, not a CSV table", name)
	}
	data, err := fs.ReadFile(tables, path.Clean(name))
	if err != nil {
		return nil, err
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // the mark that some programs begin UTF-8 with
	if !utf8.Valid(data) {
		return nil, fmt.Errorf("%s is not in UTF-8; save it as CSV UTF-8", name)
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma = separator(data)
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return rows, nil
}

// separator counts the separators of the first line outside quotation marks.
func separator(data []byte) rune {
	line, _, _ := bytes.Cut(data, []byte("\n"))
	counts := map[rune]int{}
	quoted := false
	for _, c := range string(line) {
		if c == '"' {
			quoted = !quoted
		} else if !quoted {
			counts[c]++
		}
	}
	best := ','
	for _, c := range []rune{';', '\t'} {
		if counts[c] > counts[best] {
			best = c
		}
	}
	return best
}

package ooxml

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// maxFile bounds the bytes of a workbook.
const maxFile = 256 << 20

// ErrMissing is the error of a file that is not there.
var ErrMissing = errors.New("there is no such file")

// MayRead refuses, before a byte is read, what is no file that can be read to its end: a pipe or a terminal waits for ever.
// It returns what is known of the file.
func MayRead(path string) (fs.FileInfo, error) {
	info, err := os.Stat(path)
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: %w", path, ErrMissing)
	case errors.As(err, &at):
		return nil, fmt.Errorf("%s: %w", path, at.Err)
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder, not a workbook", path)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is no file but a %s; save the workbook to a file first", path, special(info.Mode()))
	case info.Size() > maxFile:
		return nil, fmt.Errorf("%s has %d MB, more than %d MB", path, info.Size()>>20, maxFile>>20)
	}
	return info, nil
}

// special names what is neither file nor folder.
func special(mode fs.FileMode) string {
	switch {
	case mode&fs.ModeNamedPipe != 0:
		return "pipe"
	case mode&fs.ModeSocket != 0:
		return "socket"
	}
	return "device"
}

package scenarios

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/xuri/excelize/v2"

	"piececost/scenarios/ooxml"
)

// A Workbook is a starter being made or filled by the library (f), or a package that results are put into (pack, out).
type Workbook struct {
	f    *excelize.File
	pack *ooxml.Package
	out  []byte
}

// bytes returns the workbook as it is to be saved.
func (w *Workbook) bytes() ([]byte, error) {
	if w.f == nil {
		return w.out, nil
	}
	buf, err := w.f.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// ErrThere says that a file would have been overwritten.
var ErrThere = errors.New("is already there")

// Save writes the workbook beside its place and renames it over it, so that the file is the old or the new one whatever
// happens. With replace false an existing file is refused.
func (w *Workbook) Save(path string, replace bool) error {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	if dir, err := os.Stat(filepath.Dir(path)); err != nil || !dir.IsDir() {
		return fmt.Errorf("%s: there is no folder %s", path, filepath.Dir(path))
	}
	old, err := os.Stat(path)
	switch {
	case err == nil && !replace:
		return fmt.Errorf("%s %w; choose another name", path, ErrThere)
	case err == nil && old.IsDir():
		return fmt.Errorf("%s is a folder", path)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	if lock := lockFile(path); lock != "" {
		return fmt.Errorf("%s is open in another program (%s is there); close it, or write elsewhere with -o", path, filepath.Base(lock))
	}
	data, err := w.bytes()
	if err != nil {
		return err
	}
	mode := fs.FileMode(0o644)
	if old != nil {
		mode = old.Mode().Perm()
	}
	return replaceFile(path, data, mode)
}

// lockFile returns the lock file that a spreadsheet program left beside an open workbook, or "".
func lockFile(path string) string {
	dir, name := filepath.Split(path)
	for _, lock := range []string{filepath.Join(dir, ".~lock."+name+"#"), filepath.Join(dir, "~$"+name)} {
		if _, err := os.Stat(lock); err == nil {
			return lock
		}
	}
	return ""
}

// replaceFile writes a temporary file in the same folder, syncs it and renames it over the path.
func replaceFile(path string, data []byte, mode fs.FileMode) (err error) {
	tmp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.tmp")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	if _, err = tmp.Write(data); err != nil {
		return err
	}
	if err = tmp.Chmod(mode); err != nil {
		return err
	}
	if err = tmp.Sync(); err != nil {
		return err
	}
	if err = tmp.Close(); err != nil {
		return err
	}
	if err = os.Rename(tmp.Name(), path); err != nil {
		return err
	}
	if dir, e := os.Open(filepath.Dir(path)); e == nil {
		_ = dir.Sync()
		dir.Close()
	}
	return nil
}

package safefile

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"
)

// A Sum is the SHA-256 of a file's content.
type Sum = [sha256.Size]byte

// SumOf returns the sum of a content.
func SumOf(data []byte) Sum { return sha256.Sum256(data) }

// Options say what may be replaced.
type Options struct {
	Replace bool // an existing file may be replaced
	Old     *Sum // where set, the file must still have this content: it was read before, and what is written rests on it
}

// Errors that a caller may want to add to.
var (
	ErrThere   = errors.New("is already there")
	ErrChanged = errors.New("was changed by someone else since it was read; nothing was written")
)

// temporary is the pattern of the names of unfinished files; it begins with a dot, so that they don't show.
func temporary(base string) string { return "." + base + ".*.piececost-tmp" }

// Write puts data into the file at path. The file is the old or the new one whatever happens; no other file is left
// behind, unless the process is killed in between: then the unfinished one is removed by a later Write.
func Write(sys System, path string, data []byte, o Options) error {
	underWay.Lock()
	defer underWay.Unlock()
	err := write(sys, path, data, o)
	if err == nil {
		written.Store(true)
	}
	return err
}

func write(sys System, path string, data []byte, o Options) error {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target // the link stays and leads to the new file
	}
	old, err := allowed(sys, path, o)
	if err != nil {
		return err
	}
	removeLeft(sys, path)
	mode := fs.FileMode(0o644)
	if old != nil {
		mode = old.Mode().Perm()
	}
	tmp, err := writeBeside(sys, path, data, mode)
	if err != nil {
		return explain(path, err)
	}
	if old != nil {
		keepOwner(tmp, old)
	}
	if err := place(sys, tmp, path, o); err != nil {
		_ = sys.Remove(tmp)
		return err
	}
	_ = sys.SyncDir(filepath.Dir(path)) // the file is in its place; some file systems can't sync a folder
	return nil
}

// MayWrite tells, before there is anything to write, whether Write would refuse the place.
func MayWrite(sys System, path string, o Options) error {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	_, err := allowed(sys, path, o)
	return err
}

// allowed checks that path may be written and returns what is there, nil where nothing is.
func allowed(sys System, path string, o Options) (fs.FileInfo, error) {
	if dir, err := sys.Stat(filepath.Dir(path)); err != nil || !dir.IsDir() {
		return nil, fmt.Errorf("%s: there is no folder %s", path, filepath.Dir(path))
	}
	old, err := sys.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && o.Old != nil:
		return nil, fmt.Errorf("%s %w: it is gone", path, ErrChanged)
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, explain(path, err)
	case old.IsDir():
		return nil, fmt.Errorf("%s is a folder", path)
	case !old.Mode().IsRegular():
		return nil, fmt.Errorf("%s is no ordinary file", path)
	case !o.Replace:
		return nil, fmt.Errorf("%s %w; choose another name", path, ErrThere)
	case old.Mode().Perm()&0o200 == 0:
		return nil, fmt.Errorf("%s is read-only; allow writing, or write elsewhere with -o", path)
	}
	return old, nil
}

// writeBeside writes data to a new file in the same folder, syncs it and reads it back. It returns its name.
func writeBeside(sys System, path string, data []byte, mode fs.FileMode) (name string, err error) {
	tmp, err := sys.CreateTemp(filepath.Dir(path), temporary(filepath.Base(path)))
	if err != nil {
		return "", err
	}
	name = tmp.Name()
	closed := false
	defer func() {
		if err != nil {
			if !closed {
				_ = tmp.Close()
			}
			_ = sys.Remove(name)
		}
	}()
	if _, err = tmp.Write(data); err != nil {
		return name, err
	}
	if err = tmp.Chmod(mode); err != nil {
		return name, err
	}
	if err = tmp.Sync(); err != nil {
		return name, err
	}
	closed = true
	if err = tmp.Close(); err != nil {
		return name, err
	}
	back, err := sys.ReadFile(name)
	if err == nil && !bytes.Equal(back, data) {
		err = errors.New("what was written reads back differently: the disk or its driver is at fault")
	}
	return name, err
}

// place renames the finished file over path, or links it there where nothing may be replaced.
func place(sys System, tmp, path string, o Options) error {
	if !o.Replace {
		err := sys.Link(tmp, path)
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s %w; choose another name", path, ErrThere)
		}
		if err == nil {
			_ = sys.Remove(tmp)
			return nil
		}
		// a file system without links: what came in between would be replaced, as in any other program
	}
	if o.Old != nil {
		now, err := sys.ReadFile(path)
		if err != nil {
			return explain(path, err)
		}
		if SumOf(now) != *o.Old {
			return fmt.Errorf("%s %w; run again, or write elsewhere with -o", path, ErrChanged)
		}
	}
	if err := sys.Rename(tmp, path); err != nil {
		return explain(path, err)
	}
	return nil
}

// removeLeft removes unfinished files that a killed process left an hour ago or earlier.
func removeLeft(sys System, path string) {
	dir, base := filepath.Split(path)
	left, err := filepath.Glob(filepath.Join(quoteGlob(dir), temporary(quoteGlob(base))))
	if err != nil {
		return
	}
	for _, name := range left {
		if info, err := sys.Stat(name); err == nil && time.Since(info.ModTime()) > time.Hour {
			_ = sys.Remove(name)
		}
	}
}

// quoteGlob makes a name match itself only.
func quoteGlob(name string) string {
	var b bytes.Buffer
	for _, r := range name {
		if r == '*' || r == '?' || r == '[' || r == '\\' {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// explain words an error of the operating system for a person.
func explain(path string, err error) error {
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return fmt.Errorf("%s: the disk is full; nothing was changed: make room, or write elsewhere with -o", path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: permission denied in the folder %s; nothing was changed: write elsewhere with -o", path, filepath.Dir(path))
	case errors.Is(err, syscall.EROFS):
		return fmt.Errorf("%s: the disk is read-only; write elsewhere with -o", path)
	}
	var e *os.PathError
	if errors.As(err, &e) {
		err = e.Err
	}
	return fmt.Errorf("%s could not be written: %w; nothing was changed", path, err)
}

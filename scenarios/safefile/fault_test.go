package safefile_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"piececost/scenarios/safefile"
)

// faulty is an operating system in which one call fails. With died set, every later call fails too and changes nothing, as
// after a kill or a loss of power.
type faulty struct {
	real   safefile.OS
	at     int // the number of the call that fails, from 1; 0: none
	err    error
	died   bool
	calls  int
	failed string // what failed
	before func(call string)
}

func (f *faulty) fails(call string) error {
	f.calls++
	if f.before != nil {
		f.before(call)
	}
	if f.at > 0 && (f.calls == f.at || f.died && f.calls > f.at) {
		if f.failed == "" {
			f.failed = call
		}
		return f.err
	}
	return nil
}

func (f *faulty) CreateTemp(dir, pattern string) (safefile.File, error) {
	if err := f.fails("create"); err != nil {
		return nil, err
	}
	file, err := f.real.CreateTemp(dir, pattern)
	return &faultyFile{file, f}, err
}

func (f *faulty) ReadFile(name string) ([]byte, error) {
	if err := f.fails("read " + kind(name)); err != nil {
		return nil, err
	}
	return f.real.ReadFile(name)
}

func (f *faulty) Stat(name string) (fs.FileInfo, error) {
	if err := f.fails("stat"); err != nil {
		return nil, err
	}
	return f.real.Stat(name)
}

func (f *faulty) Rename(from, to string) error {
	if err := f.fails("rename"); err != nil {
		return err
	}
	return f.real.Rename(from, to)
}

func (f *faulty) Link(from, to string) error {
	if err := f.fails("link"); err != nil {
		return err
	}
	return f.real.Link(from, to)
}

func (f *faulty) Remove(name string) error {
	if err := f.fails("remove"); err != nil {
		return err
	}
	return f.real.Remove(name)
}

func (f *faulty) SyncDir(name string) error {
	if err := f.fails("sync folder"); err != nil {
		return err
	}
	return f.real.SyncDir(name)
}

func kind(name string) string {
	if strings.HasSuffix(name, "piececost-tmp") {
		return "back"
	}
	return "old"
}

type faultyFile struct {
	safefile.File
	sys *faulty
}

// Write writes half where it fails, as a full disk does.
func (f *faultyFile) Write(data []byte) (int, error) {
	if err := f.sys.fails("write"); err != nil {
		if f.sys.died && f.sys.calls > f.sys.at {
			return 0, err
		}
		n, _ := f.File.Write(data[:len(data)/2])
		return n, err
	}
	return f.File.Write(data)
}

func (f *faultyFile) Chmod(m fs.FileMode) error {
	if err := f.sys.fails("chmod"); err != nil {
		return err
	}
	return f.File.Chmod(m)
}

func (f *faultyFile) Sync() error {
	if err := f.sys.fails("sync"); err != nil {
		return err
	}
	return f.File.Sync()
}

func (f *faultyFile) Close() error {
	if err := f.sys.fails("close"); err != nil {
		f.File.Close()
		return err
	}
	return f.File.Close()
}

const (
	oldText = "the old workbook"
	newText = "the new workbook, which is a little longer"
)

func place(t *testing.T) (path string, old safefile.Sum) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "tray.xlsx")
	if err := os.WriteFile(path, []byte(oldText), 0o640); err != nil {
		t.Fatal(err)
	}
	return path, safefile.SumOf([]byte(oldText))
}

// TestEveryCallFails lets each call of a replacement fail in turn, once alone and once with all that follow, with three
// errors of the operating system: the file is the old or the new one, and the error says which.
func TestEveryCallFails(t *testing.T) {
	path, old := place(t)
	whole := &faulty{}
	if err := safefile.Write(whole, path, []byte(newText), safefile.Options{Replace: true, Old: &old}); err != nil {
		t.Fatal(err)
	}
	if whole.calls < 11 {
		t.Fatalf("only %d calls counted", whole.calls)
	}
	names := map[string]bool{}
	for _, cause := range []error{syscall.ENOSPC, syscall.EIO, fs.ErrPermission} {
		for _, died := range []bool{false, true} {
			for at := 1; at <= whole.calls; at++ {
				sys := &faulty{at: at, err: &os.PathError{Op: "call", Path: "file", Err: cause}, died: died}
				names[check(t, sys, cause, died)] = true
			}
		}
	}
	for _, want := range []string{"stat", "create", "write", "chmod", "sync", "close", "read back", "read old", "rename", "sync folder"} {
		if !names[want] {
			t.Errorf("the call %q never failed", want)
		}
	}
}

// check replaces a file with a faulty system and returns the call that failed.
func check(t *testing.T, sys *faulty, cause error, died bool) string {
	t.Helper()
	path, old := place(t)
	err := safefile.Write(sys, path, []byte(newText), safefile.Options{Replace: true, Old: &old})
	got, readErr := os.ReadFile(path)
	if readErr != nil {
		t.Fatalf("%s failed (%v): the file is gone: %v", sys.failed, cause, readErr)
	}
	want := oldText
	if err == nil {
		want = newText
	}
	if string(got) != want {
		t.Errorf("%s failed (%v, died %v), error %v: the file holds %q", sys.failed, cause, died, err, got)
	}
	if err == nil && sys.failed != "sync folder" && sys.failed != "stat" {
		t.Errorf("%s failed and no error came", sys.failed)
	}
	if err != nil && !strings.Contains(err.Error(), path) && !strings.Contains(err.Error(), filepath.Dir(path)) {
		t.Errorf("the error %q does not name the file", err)
	}
	if left := others(t, path); len(left) > 0 && !died {
		t.Errorf("%s failed: left behind %v", sys.failed, left)
	}
	return sys.failed
}

// others lists the files beside one.
func others(t *testing.T, path string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		if e.Name() != filepath.Base(path) {
			out = append(out, e.Name())
		}
	}
	return out
}

// TestNewFile makes a file where none is: each call fails in turn, and the file is whole or not there.
func TestNewFile(t *testing.T) {
	for at := 0; at <= 12; at++ {
		path := filepath.Join(t.TempDir(), "new.xlsx")
		sys := &faulty{at: at, err: syscall.EIO}
		err := safefile.Write(sys, path, []byte(newText), safefile.Options{})
		got, readErr := os.ReadFile(path)
		switch {
		case err == nil && !bytes.Equal(got, []byte(newText)):
			t.Errorf("call %d (%s): no error, the file holds %q", at, sys.failed, got)
		case err != nil && !errors.Is(readErr, fs.ErrNotExist):
			t.Errorf("call %d (%s): error %v, yet the file is there", at, sys.failed, err)
		}
	}
}

// TestComesBetween has someone else act at a call: what they did is never overwritten unseen.
func TestComesBetween(t *testing.T) {
	t.Run("changed", func(t *testing.T) {
		path, old := place(t)
		sys := &faulty{before: func(call string) {
			if call == "chmod" {
				must(t, os.WriteFile(path, []byte("changed by Anna"), 0o644))
			}
		}}
		err := safefile.Write(sys, path, []byte(newText), safefile.Options{Replace: true, Old: &old})
		expect(t, path, err, safefile.ErrChanged, "changed by Anna")
	})
	t.Run("gone", func(t *testing.T) {
		path, old := place(t)
		must(t, os.Remove(path))
		err := safefile.Write(safefile.OS{}, path, []byte(newText), safefile.Options{Replace: true, Old: &old})
		if !errors.Is(err, safefile.ErrChanged) || len(others(t, path)) > 0 {
			t.Errorf("got %v, left %v", err, others(t, path))
		}
	})
	t.Run("made", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "new.xlsx")
		sys := &faulty{before: func(call string) {
			if call == "link" {
				must(t, os.WriteFile(path, []byte("made by Anna"), 0o644))
			}
		}}
		err := safefile.Write(sys, path, []byte(newText), safefile.Options{})
		expect(t, path, err, safefile.ErrThere, "made by Anna")
	})
	t.Run("disk lies", func(t *testing.T) {
		path, old := place(t)
		sys := &faulty{before: func(call string) {
			if call != "read back" {
				return
			}
			left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*"))
			must(t, os.WriteFile(left[0], []byte("garbage"), 0o644))
		}}
		err := safefile.Write(sys, path, []byte(newText), safefile.Options{Replace: true, Old: &old})
		if err == nil || !strings.Contains(err.Error(), "reads back differently") {
			t.Errorf("got %v", err)
		}
		expect(t, path, err, err, oldText)
	})
}

func expect(t *testing.T, path string, err, want error, text string) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Errorf("got %v, want %v", err, want)
	}
	if got, _ := os.ReadFile(path); string(got) != text {
		t.Errorf("the file holds %q, want %q", got, text)
	}
	if left := others(t, path); len(left) > 0 {
		t.Errorf("left behind %v", left)
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// TestWords holds the lines a person reads.
func TestWords(t *testing.T) {
	path, old := place(t)
	for _, c := range []struct {
		err  error
		want string
	}{
		{syscall.ENOSPC, "the disk is full; nothing was changed"},
		{fs.ErrPermission, "permission denied in the folder"},
		{syscall.EROFS, "the disk is read-only"},
		{syscall.EIO, "could not be written: input/output error; nothing was changed"},
	} {
		sys := &faulty{at: 3, err: &os.PathError{Op: "open", Path: "x", Err: c.err}}
		err := safefile.Write(sys, path, []byte(newText), safefile.Options{Replace: true, Old: &old})
		if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%v at %s: got %v, want %q", c.err, sys.failed, err, c.want)
		}
	}
	must(t, os.Chmod(path, 0o444))
	if err := safefile.Write(safefile.OS{}, path, nil, safefile.Options{Replace: true}); err == nil || !strings.Contains(err.Error(), "read-only") {
		t.Errorf("a read-only file: %v", err)
	}
	if err := safefile.Write(safefile.OS{}, filepath.Dir(path), nil, safefile.Options{Replace: true}); err == nil ||
		!strings.Contains(err.Error(), "is a folder") {
		t.Errorf("a folder: %v", err)
	}
}

// TestKeeps holds what a replacement keeps: the mode, and a symbolic link.
func TestKeeps(t *testing.T) {
	path, old := place(t)
	link := filepath.Join(t.TempDir(), "link.xlsx")
	if err := os.Symlink(path, link); err != nil {
		t.Skip("no symbolic links here")
	}
	must(t, safefile.Write(safefile.OS{}, link, []byte(newText), safefile.Options{Replace: true, Old: &old}))
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link became %v, %v", info.Mode(), err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o640 {
		t.Errorf("the mode is %v", info.Mode())
	}
	expect(t, path, nil, nil, newText)
}

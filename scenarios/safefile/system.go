package safefile

import (
	"io"
	"io/fs"
	"os"
)

// A System is the part of the operating system that a replacement needs; tests let each call fail.
type System interface {
	CreateTemp(dir, pattern string) (File, error)
	ReadFile(name string) ([]byte, error)
	Stat(name string) (fs.FileInfo, error)
	Rename(from, to string) error
	Link(from, to string) error
	Remove(name string) error
	SyncDir(name string) error
}

// A File is a file being written.
type File interface {
	io.Writer
	Name() string
	Chmod(fs.FileMode) error
	Sync() error
	Close() error
}

// OS is the operating system itself.
type OS struct{}

// CreateTemp makes a new file in dir with a random name (os.CreateTemp).
func (OS) CreateTemp(dir, pattern string) (File, error) { return os.CreateTemp(dir, pattern) }

// ReadFile returns a file's content.
func (OS) ReadFile(name string) ([]byte, error) { return os.ReadFile(name) }

// Stat follows symbolic links.
func (OS) Stat(name string) (fs.FileInfo, error) { return os.Stat(name) }

// Rename replaces the target.
func (OS) Rename(from, to string) error { return os.Rename(from, to) }

// Link fails where the target exists.
func (OS) Link(from, to string) error { return os.Link(from, to) }

// Remove removes a file.
func (OS) Remove(name string) error { return os.Remove(name) }

// SyncDir makes a rename in a folder last through a loss of power.
func (OS) SyncDir(name string) error {
	dir, err := os.Open(name)
	if err != nil {
		return err
	}
	defer dir.Close()
	return dir.Sync()
}

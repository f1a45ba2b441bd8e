//go:build unix

package safefile

import (
	"io/fs"
	"os"
	"syscall"
)

// keepOwner gives a new file the owner of the old one, where that is another and the system lets us.
func keepOwner(name string, old fs.FileInfo) {
	if s, ok := old.Sys().(*syscall.Stat_t); ok && int(s.Uid) != os.Geteuid() {
		_ = os.Chown(name, int(s.Uid), int(s.Gid))
	}
}

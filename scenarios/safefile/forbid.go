package safefile

import (
	"sync"
	"sync/atomic"
)

// A process that is told to end must not end while it puts a file in its place.
var (
	underWay sync.Mutex  // held while a file is written
	written  atomic.Bool // one was
)

// Forbid lets no Write begin any more and returns true, where none is under way and none was done: the process may end with
// nothing written. Else it returns false and changes nothing.
func Forbid() bool { return !written.Load() && underWay.TryLock() }

// Package safefile replaces a file whole or not at all. The new content is written beside the file, synced, read back,
// and renamed over it, so that whatever happens, at any system call, the file is the old or the new one. It knows nothing
// of workbooks. Its errors are fit to be shown: they name the file, what is wrong and what to do.
package safefile

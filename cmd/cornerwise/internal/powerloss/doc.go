// Package powerloss tells what may be on a disk when the power goes while a program runs. Only
// tests use it.
//
// # The model
//
// The program runs under strace, which writes down each call that changes a file or a folder,
// and when it began and ended (trace.go). What has ended is not yet on the disk:
//
//   - what a file holds, and its size, is on the disk once that file was synced;
//   - a name (made, linked, renamed, removed; of a file or of a folder) is on the disk once
//     its folder was synced, a rename once both folders were;
//   - nothing else brings anything there for certain, and anything may come there early.
//
// When the power goes at some moment, all that was synced by then is there; of the rest any part
// may be: none, all, some; of a write its size only, or some of its blocks; a name without what
// the file should hold, or that without its name (state.go).
//
// Such a State is as POSIX allows. Most file systems promise more: names come to the disk in the
// order in which they were made, and any sync takes all earlier ones along. A Moment that such a
// file system could be caught in is Ordered; one that is not needs a poorer one.
//
// # How far to trust it
//
// A recording is refused when it does not lead to what lies in the folder at its end, or when it
// holds a call that is not part of the model. Not modelled are disks that lie about a sync, and
// bytes that come to be wrong where nothing was written.
package powerloss

// Package session keeps the sessions: ops on disk, revisions, watches.
//
// A session is its ops. The first is the plan and makes revision 1; every op that
// is taken adds 1. What a session looks like is what steps makes of the ops, and
// is never stored. An answer means: on disk.
//
// All of it lies in one bbolt file:
//
//	meta/version           the schema, a decimal number: how many migrations ran; bare
//	meta/sealed            the same, sealed
//	meta/past              the store's epoch (Store.Epoch); since the first Restore
//	meta/edition           the edition of the procedure that the heads are of, sealed
//	sessions/ID/head       Head
//	sessions/ID/ops/REV    steps.Entry; REV is 8 bytes, big endian, without a gap
//	sessions/ID/seen/OP    what the op with that id was answered
//	recent/TOUCHED+ID      nothing; the list, last touched first
//	bin/TOUCHED+ID         nothing; the same for the sessions in the bin
//	devices/HASH           Device; HASH is the SHA-256 of its secret, in hexadecimal
//
// A value is JSON (in meta: text) under a seal, which tells whether it is as it was written: the
// CRC-32C of key and value and the value's length, 4 bytes each, big endian, then
// the value. TOUCHED is Head.Touched in milliseconds since 1970, 8 bytes,
// big endian, with every bit inverted, so that the latest comes first. The
// head is kept so that a list need not read ops.
package session

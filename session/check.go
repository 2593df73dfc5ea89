package session

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"
	"time"

	bolt "go.etcd.io/bbolt"
)

// A Report is what a check of a store found.
type Report struct {
	Version  int       `json:"version"`
	Sessions int       `json:"sessions"` // with those in the bin
	Binned   int       `json:"binned"`
	Ops      int64     `json:"ops"`
	Last     time.Time `json:"last,omitzero"` // the time of the last op
	Size     int64     `json:"size"`          // of what is in use of the file, in bytes
	Sum      string    `json:"sum"`           // SHA-256 of all records but bookmarks: alike in two files that hold the same
	Half     bool      `json:"half"`          // a meta page is damaged: the last commit may be missing
	Devices  int       `json:"devices"`       // that may come in
	Unread   int       `json:"unread"`        // devices whose record can't be read: no fault, they pair again
	Faults   []string  `json:"faults,omitempty"`
}

// CheckFile reads a store through, every page and every record, without bbolt: it
// locks nothing, writes nothing and comes back from any file. Nobody may write to
// it meanwhile. An error is ErrDamaged, with the first fault (the report has
// more), ErrForeign, ErrNewer, or the system's.
func CheckFile(path string) (Report, error) {
	report, err := checkFile(path)
	return report, fileError("check "+filepath.Base(path), err)
}

func checkFile(path string) (Report, error) {
	file, err := os.Open(path)
	if err != nil {
		return Report{}, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return Report{}, err
	}
	from, half, err := readRoot(file, info.Size())
	report := Report{Size: int64(from.high) * from.pageSize, Half: half}
	if err != nil {
		return report, err
	}
	return report, report.check(file, from)
}

// Check is CheckFile for a store that is open, as it stands now; writers go on. It
// ends early with ctx.
func (s *Store) Check(ctx context.Context) (report Report, err error) {
	err = s.view("check", func(tx *bolt.Tx) error {
		file, err := os.Open(s.db.Path())
		if err != nil {
			return err
		}
		defer file.Close()
		// The file's meta pages go on; what this transaction sees stays.
		pageSize := int64(s.db.Info().PageSize)
		from := root{page: uint64(tx.Cursor().Bucket().Root()), high: uint64(tx.Size() / pageSize), txid: uint64(tx.ID()), pageSize: pageSize}
		report = Report{Size: tx.Size()}
		return report.check(whileWanted{ctx, file}, from)
	})
	if ctx.Err() != nil {
		return Report{}, ctx.Err()
	}
	return report, err
}

// whileWanted reads until ctx ends.
type whileWanted struct {
	ctx  context.Context
	file io.ReaderAt
}

func (w whileWanted) ReadAt(data []byte, at int64) (int, error) {
	if w.ctx.Err() != nil {
		return 0, w.ctx.Err()
	}
	return w.file.ReadAt(data, at)
}

// check fills in the report on one state of the file.
func (r *Report) check(file io.ReaderAt, from root) error {
	var written, kept []byte
	meta := walk{file: file, root: from,
		enter: func(path []string) bool { return path[0] == string(bucketMeta) },
		see: func(_ []string, key, value []byte) {
			switch string(key) {
			case string(keyVersion):
				written = append([]byte{}, value...)
			case string(keySealed):
				kept = append([]byte{}, value...)
			}
		}}
	meta.run()
	version, err := readVersion(written, kept)
	r.Version, r.Faults = version, meta.faults
	switch {
	case len(r.Faults) > 0:
		return r.damage()
	case err != nil:
		r.Faults = append(r.Faults, err.Error())
		return err
	case version == 0:
		return ErrForeign
	case version > len(migrations):
		return ErrNewer
	}
	c := check{version: version, sessions: map[string]*tally{}, listed: map[string]bool{}, sum: sha256.New()}
	all := walk{file: file, root: from, enter: c.enter}
	all.see = func(path []string, key, value []byte) { c.see(&all, path, key, value) }
	all.run()
	c.end(&all, r)
	r.Faults = all.faults
	return r.damage()
}

func (r *Report) damage() error {
	switch n := len(r.Faults); n {
	case 0:
		return nil
	case 1:
		return fmt.Errorf("%s: %w", r.Faults[0], ErrDamaged)
	default:
		return fmt.Errorf("%s, and %d faults more: %w", r.Faults[0], n-1, ErrDamaged)
	}
}

// A check holds the records of a file against each other.
type check struct {
	version  int
	sessions map[string]*tally
	listed   map[string]bool // list and key
	sum      hash.Hash
	line     []byte // what goes into it, to be used again

	devices, unread int
}

// A tally is what was met of one session.
type tally struct {
	head      Head
	ops, seen int64
	buckets   int
}

func (c *check) enter(path []string) bool {
	if path[0] != string(bucketSessions) {
		return true
	}
	switch len(path) {
	case 2:
		c.sessions[path[1]] = &tally{}
	case 3:
		c.sessions[path[1]].buckets++
	}
	return true
}

func (c *check) see(w *walk, path []string, key, value []byte) {
	if len(path) > 0 && path[0] == string(bucketBookmarks) {
		return // one that can't be read is none, and nothing of anyone's work is lost
	}
	c.add(path, key, value)
	if len(path) == 0 {
		w.fault("the record %.80q lies in no bucket", key)
		return
	}
	// A device that can't be read pairs again: nothing of anyone's work is lost.
	if path[0] == string(bucketDevices) {
		if _, err := readDevice(c.version, key, value); err != nil || len(path) > 1 {
			c.unread++
		} else {
			c.devices++
		}
		return
	}
	list := path[0] == string(bucketRecent) || path[0] == string(bucketBin)
	session := path[0] == string(bucketSessions)
	photo := path[0] == string(bucketPhotos) || path[0] == string(bucketPacked)
	if !list && !session && !photo {
		return
	}
	if c.version >= sealedFrom {
		var err error
		if value, err = unsealed(key, value); err != nil {
			w.fault("in %q the record %.80q is not as it was written", path, key)
			return
		}
	}
	switch {
	case photo:
	case list:
		c.listed[path[0]+string(key)] = true
	case len(path) == 2 && string(key) == string(keyHead):
		if err := json.Unmarshal(value, &c.sessions[path[1]].head); err != nil {
			w.fault("the head of the session %s can't be read: %v", path[1], err)
		}
	case len(path) == 3 && path[2] == string(bucketOps):
		n := c.sessions[path[1]]
		if n.ops++; len(key) != 8 || binary.BigEndian.Uint64(key) != uint64(n.ops) {
			w.fault("op %d of the session %s is missing, or one before it is there twice", n.ops, path[1])
		}
	case len(path) == 3 && path[2] == string(bucketSeen):
		c.sessions[path[1]].seen++
	default:
		w.fault("in %q there is a record %.80q that does not belong there", path, key)
	}
}

// add takes a record into the sum, each part with its length before it.
func (c *check) add(path []string, key, value []byte) {
	c.line = binary.BigEndian.AppendUint32(c.line[:0], uint32(len(path)))
	for _, name := range path {
		c.line = append(binary.BigEndian.AppendUint32(c.line, uint32(len(name))), name...)
	}
	for _, part := range [][]byte{key, value} {
		c.line = append(binary.BigEndian.AppendUint32(c.line, uint32(len(part))), part...)
	}
	c.sum.Write(c.line)
}

// end compares the tallies.
func (c *check) end(w *walk, r *Report) {
	for id, n := range c.sessions {
		r.Sessions++
		r.Ops += n.ops
		list := bucketRecent
		if !n.head.Binned.IsZero() {
			r.Binned++
			list = bucketBin
		}
		if n.head.Touched.After(r.Last) {
			r.Last = n.head.Touched
		}
		switch {
		case n.head.ID != id:
			w.fault("the session %s has no head of its own", id)
		case n.head.Rev != n.ops || n.seen < n.ops || n.buckets != 2:
			w.fault("the session %s has %d ops and %d answers, where its head says %d", id, n.ops, n.seen, n.head.Rev)
		case !c.listed[string(list)+string(n.head.key())]:
			w.fault("the session %s is not in the list of %s", id, list)
		}
	}
	r.Devices, r.Unread = c.devices, c.unread
	r.Sum = hex.EncodeToString(c.sum.Sum(nil))
	if len(c.listed) != len(c.sessions) {
		w.fault("the lists have %d sessions, and there are %d", len(c.listed), len(c.sessions))
	}
}

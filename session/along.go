package session

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// What is taken along to another computer is one file of lines. Each is JSON, and can be read
// though another is damaged:
//
//	{"cornerwise-quilts":1}
//	an export of one session, as ExportWithPhotosTo writes it, for each
//	{"quilts":N}
//
// What is in the bin is not in it, and no device.
const (
	alongVersion = 1
	alongBegins  = `{"cornerwise-quilts":`
	alongEnds    = `{"quilts":`
	exportBegins = `{"cornerwise":`
)

const (
	// maxAlongLine is for one quilt with its photos. Those of twelve borders have some 24 MiB, and
	// each plan that it ever had may have had others.
	maxAlongLine = 1 << 30
	// maxAlong is how many lines are read.
	maxAlong = 10000
	// maxUnread is how many that can't be read are told one by one.
	maxUnread = 50
)

// AlongTo writes all sessions that are not in the bin, each as it stands when it is written.
// Nothing is written before the list of them is read. One that can't be read leaves a line that
// can't be read either, so that the others are not lost with it.
func (s *Store) AlongTo(to io.Writer) error {
	heads, _, err := s.List(math.MaxInt, "", false)
	if err != nil {
		return err
	}
	out := &alongWriter{to: to}
	fmt.Fprintf(out, "%s%d}\n", alongBegins, alongVersion)
	n := 0
	for _, h := range heads {
		before := out.written
		err := s.ExportWithPhotosTo(h.ID, out)
		switch {
		case out.err != nil:
			return out.err
		case errors.Is(err, ErrClosed):
			return err
		case err != nil && out.written == before && (errors.Is(err, ErrBinned) || errors.Is(err, ErrNotFound)):
			continue // meanwhile
		case err != nil && out.written == before:
			title, _ := json.Marshal(h)
			fmt.Fprintf(out, `%s%d,"session":%s,"history":[`, exportBegins, exportVersion, title)
		}
		n++
		io.WriteString(out, "\n")
	}
	fmt.Fprintf(out, "%s%d}\n", alongEnds, n)
	return out.err
}

// An alongWriter remembers whether who reads takes no more.
type alongWriter struct {
	to      io.Writer
	written int64
	err     error
}

func (a *alongWriter) Write(data []byte) (n int, err error) {
	if a.err != nil {
		return 0, a.err
	}
	n, a.err = a.to.Write(data)
	a.written += int64(n)
	return n, a.err
}

// A TakenIn is what became of each quilt of a file.
type TakenIn struct {
	Added   []Head   // under new ids
	Further []Head   // of these, whose earlier state was here and is in the bin now
	Apart   []Head   // of these, that went on here in another way: both are here
	Here    []string // titles of those that were here already, as far or further on
	Binned  []string // and of these that are in the bin here
	Unread  []Unread // the first ones
	More    int      // that could not be read either
	Cut     bool     // the end of the file is missing
}

// An Unread quilt could not be read.
type Unread struct {
	Title string // "" where that could not be read
	Place int    // in the file, from 1
	Why   error  // a *steps.Refusal
}

// errNotAlong is for a file of another kind.
var errNotAlong = badImport("This is no file of quilts that Cornerwise wrote. Nothing was changed: choose " +
	"the file that the page of the other computer gave.")

var errAlongNewer = badImport("This file was written by a newer Cornerwise. Nothing was changed: take it in " +
	"with that one.")

// TakeIn adds the quilts of a file that AlongTo wrote, or of an export, one by one; each is on the
// disk before the next is read. A quilt is the one that is here when both began with the same op.
// What is here as far or further on is left out, so that the same file can be taken in twice.
// Where it went on elsewhere it is added, and what is here goes into the bin in the same
// transaction. Where it went on in both places it is added, and both stay.
//
// An error ends it; what TakenIn tells until then is done. It is a *steps.Refusal where the file
// is no such file, else that of the reader, of ctx or of the disk.
func (s *Store) TakeIn(ctx context.Context, from io.Reader) (TakenIn, error) {
	in := &takingIn{store: s, lines: bufio.NewReaderSize(from, 64<<10)}
	err := in.all(ctx)
	return in.done, err
}

type takingIn struct {
	store *Store
	lines *bufio.Reader
	known map[string][]string // ids of sessions here, by the id of their first op
	done  TakenIn
}

func (in *takingIn) all(ctx context.Context) (err error) {
	if in.known, err = in.store.firstOps(); err != nil {
		return err
	}
	begun, place := false, 0
	for n := 0; ; n++ {
		line := &line{from: in.lines}
		begins, err := in.lines.Peek(len(alongBegins))
		switch {
		case err == io.EOF && len(begins) == 0 && n > 0:
			in.done.Cut = begun
			return nil
		case err != nil && err != io.EOF:
			return err
		case n == maxAlong:
			return badImport("The file has more than %d quilts, and no more are taken.", maxAlong-1)
		case n == 0 && bytes.HasPrefix(begins, []byte(alongBegins)):
			begun = true
			err = line.header()
		case begun && bytes.HasPrefix(begins, []byte(alongEnds)):
			return nil
		case n == 0 && !bytes.HasPrefix(begins, []byte(exportBegins)):
			return errNotAlong
		case n > 0 && !begun: // an export, and something after it
			return nil
		default:
			place++
			err = in.quilt(ctx, place, line)
		}
		if err == nil {
			err = line.skip()
		}
		if err != nil {
			return err
		}
	}
}

// quilt reads one. An error ends all.
func (in *takingIn) quilt(ctx context.Context, place int, from *line) error {
	i, err := in.store.readImport(ctx, from)
	var refusal *steps.Refusal
	switch {
	case err == nil:
		return in.keep(ctx, i)
	case from.failed != nil:
		return from.failed
	case ctx.Err() != nil:
		return context.Cause(ctx)
	case errors.Is(err, context.DeadlineExceeded):
		err = badImport("Its history takes longer than %v to go through.", historyWithin)
	case errors.Is(err, errLongLine):
		err = badImport("It has more than %d MiB.", maxAlongLine>>20)
	case !errors.As(err, &refusal):
		return err
	}
	if len(in.done.Unread) == maxUnread {
		in.done.More++
	} else {
		in.done.Unread = append(in.done.Unread, Unread{i.title, place, err})
	}
	return nil
}

// keep adds one, where it is not here yet.
func (in *takingIn) keep(ctx context.Context, i *importing) error {
	title := i.work.Plan.Title
	var earlier []Head
	apart := false
	for _, id := range in.known[i.rows[0].op] {
		head, same, err := in.store.sameRows(id, i.rows)
		if errors.Is(err, ErrNotFound) {
			continue
		}
		if err != nil {
			return err
		}
		switch binned := !head.Binned.IsZero(); {
		case same == len(i.rows) && binned:
			in.done.Binned = append(in.done.Binned, title)
			return nil
		case same == len(i.rows):
			in.done.Here = append(in.done.Here, title)
			return nil
		case binned:
		case int64(same) == head.Rev:
			earlier = append(earlier, head)
		default:
			apart = true
		}
	}
	first := i.rows[0].op
	further := false
	head, err := in.store.keepImport(ctx, i, func(b *batch) error {
		var drafts []*draft
		for _, was := range earlier {
			d, err := b.draft(was.ID)
			if err != nil {
				return err
			}
			drafts = append(drafts, d)
		}
		for n, d := range drafts {
			if d.head.Rev != earlier[n].Rev { // somebody worked on it meanwhile
				apart = true
				continue
			}
			further = true
			if d.head.Binned.IsZero() {
				d.head.Binned = d.head.time(in.store.now())
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	in.known[first] = append(in.known[first], head.ID)
	in.done.Added = append(in.done.Added, head)
	switch {
	case apart:
		in.done.Apart = append(in.done.Apart, head)
	case further:
		in.done.Further = append(in.done.Further, head)
	}
	return nil
}

// firstOps are the ids of all sessions by that of their first op, those in the bin too.
func (s *Store) firstOps() (known map[string][]string, err error) {
	known = map[string][]string{}
	err = s.view("read", func(tx *bolt.Tx) error {
		sessions := tx.Bucket(bucketSessions)
		return sessions.ForEachBucket(func(id []byte) error {
			return notEnough(eachEntry(sessions.Bucket(id), 0, func(e steps.Entry) error {
				known[e.ID] = append(known[e.ID], string(id))
				return errEnough
			}))
		})
	})
	return known, err
}

// sameRows is how many of the first rows a session has, in the bin or not.
func (s *Store) sameRows(id string, rows []row) (head Head, same int, err error) {
	err = s.view("read", func(tx *bolt.Tx) error {
		var session *bolt.Bucket
		if head, session, err = readHead(tx, id); err != nil {
			return err
		}
		return notEnough(eachEntry(session, 0, func(e steps.Entry) error {
			if same == len(rows) {
				return errEnough
			}
			// An older program may have written the same in another order.
			kept, err := newRow(e)
			if err != nil {
				return err
			}
			if !bytes.Equal(kept.kept, rows[same].kept) {
				return errEnough
			}
			same++
			return nil
		}))
	})
	return head, same, err
}

var errLongLine = errors.New("the line is too long")

// A line is read up to its end, and no further than a quilt may be long.
type line struct {
	from   *bufio.Reader
	read   int64
	ended  bool
	failed error // of the reader
}

func (l *line) Read(data []byte) (int, error) {
	if l.read > maxAlongLine {
		return 0, errLongLine
	}
	piece, err := l.piece(len(data))
	return copy(data, piece), err
}

// piece is what comes next, up to so many bytes, without the line's end.
func (l *line) piece(most int) ([]byte, error) {
	if l.ended {
		return nil, io.EOF
	}
	some, err := l.from.Peek(1)
	if len(some) == 0 {
		l.ended = true
		if err != io.EOF {
			l.failed = err
		}
		return nil, err
	}
	some, _ = l.from.Peek(min(most, l.from.Buffered()))
	if end := bytes.IndexByte(some, '\n'); end >= 0 {
		l.ended = true
		some = some[:end]
		l.from.Discard(end + 1)
		return some, nil
	}
	l.read += int64(len(some))
	l.from.Discard(len(some))
	return some, nil
}

// skip reads to the end of the line.
func (l *line) skip() error {
	for !l.ended {
		if _, err := l.piece(64 << 10); err != nil && err != io.EOF {
			return err
		}
	}
	return nil
}

func (l *line) header() error {
	said, err := io.ReadAll(io.LimitReader(l, 1<<10))
	var form struct {
		Version int `json:"cornerwise-quilts"`
	}
	switch {
	case err != nil:
		return err
	case json.Unmarshal(said, &form) != nil || form.Version < 1:
		return errNotAlong
	case form.Version > alongVersion:
		return errAlongNewer
	}
	return nil
}

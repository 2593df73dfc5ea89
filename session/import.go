package session

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"cornerwise/steps"
)

// BadImport is the code of the refusal of an export that can't be imported.
const BadImport = "bad-import"

const (
	// maxOpID is in bytes, and no op that steps took has more.
	maxOpID = 400
	// maxImport is how many ops an import may have. A top with twelve borders has 700.
	maxImport = 20000
	// maxHistory is how many bytes they may have as JSON: they are in memory until they are kept.
	maxHistory = 48 << 20
	// historyWithin is how long they may take to go through. A top with twelve borders takes a
	// second.
	historyWithin = 30 * time.Second
)

func badImport(format string, a ...any) error {
	return &steps.Refusal{Code: BadImport, Message: fmt.Sprintf(format, a...)}
}

// Import makes an exported session anew under a new id; its ops keep their ids and
// times. What was taken once is not judged again: a history of any edition up to today's
// gives the state that it has where it comes from. What no program could have taken is a
// *steps.Refusal with the code BadImport. The history is read op by op, and no further than
// to its first fault. An error of the reader is returned as it is; that of a history which takes
// too long is context.DeadlineExceeded.
func (s *Store) Import(ctx context.Context, from io.Reader) (Head, error) {
	i, err := s.readImport(ctx, from)
	if err != nil {
		return Head{}, err
	}
	return s.keepImport(ctx, i, nil)
}

// readImport is an exported session, read and checked. After an error it has the title where
// that could be read.
func (s *Store) readImport(ctx context.Context, from io.Reader) (i *importing, err error) {
	i = &importing{latest: s.now().Add(24 * time.Hour), seen: map[string]bool{}, last: time.Unix(0, 0)}
	photos := s.keepsPhotos(ctx)
	var end time.Time
	i.title, err = readExport(from, photos, func(e steps.Entry) error {
		switch now := time.Now(); {
		case ctx.Err() != nil:
			return context.Cause(ctx)
		case end.IsZero():
			end = now.Add(historyWithin)
		case now.After(end):
			return context.DeadlineExceeded
		}
		return i.take(e)
	})
	return i, err
}

// keepImport keeps it under a new id. with is as for make.
func (s *Store) keepImport(ctx context.Context, i *importing, with func(*batch) error) (Head, error) {
	return s.make(ctx, Head{}, i.work, i.rows, i.last, i.took, i.photos, with)
}

// importing is a session on the way in.
type importing struct {
	latest time.Time // that an op may be of
	title  string    // as its head says; "" where it does not

	work    *steps.Work
	rows    []row
	seen    map[string]bool // op ids
	last    time.Time
	photos  []string // that its plans named
	edition int
	took    time.Duration // to fold them
}

// take checks one op and does it.
func (i *importing) take(e steps.Entry) error {
	rev := int64(len(i.rows)) + 1
	e.Op, e.At = asKept(e.Op), e.At.UTC().Truncate(time.Millisecond)
	switch {
	case rev > maxImport:
		return badImport("The history has more than %d ops, and no more are taken. Begin a new session on the same plan.", maxImport)
	case e.Rev != rev:
		return badImport("Op %d of the history has the revision %d. They must count up from 1 without a gap.", rev, e.Rev)
	case e.At.Before(i.last):
		return badImport("Op %d of the history is earlier than the one before it. The order must be the order of time.", rev)
	case e.At.After(i.latest):
		return badImport("Op %d of the history lies in the future. Set the clock of this computer, then import again.", rev)
	case e.ID == "" || len(e.ID) > maxOpID:
		return badImport("Op %d of the history has no id, or one that is too long. Export it again.", rev)
	case i.seen[e.ID]:
		return badImport("Op %d of the history is there twice. Export it again.", rev)
	case rev == 1 && e.Kind != steps.KindPlan:
		return badImport("The history must begin with the plan; here it begins with %.40q.", e.Kind)
	case e.Edition > steps.Edition():
		return badImport("Op %d of the history was taken by a newer program. Import it with that one.", rev)
	case e.Edition < 0 || e.Edition != 0 && e.Edition < i.edition:
		return badImport("Op %d of the history is of an older edition than the one before it. Export it again.", rev)
	}
	err := errors.Join(e.Op.Check(), e.Op.Had(), e.CheckBy())
	if err == nil {
		begun := time.Now()
		i.work, _, err = fold(i.work, e)
		i.took += time.Since(begun)
	}
	if err == nil && e.Kind == steps.KindPlan {
		i.photos = append(i.photos, photosOf(i.work.Plan)...)
	}
	var refusal *steps.Refusal
	if errors.As(err, &refusal) {
		return badImport("Op %d of the history can't have been taken: %s", rev, whole(refusal))
	}
	if err != nil {
		return err
	}
	kept, err := newRow(e)
	i.rows = append(i.rows, kept)
	i.seen[e.ID], i.last, i.edition = true, e.At, max(i.edition, e.Edition)
	return err
}

// whole is why an op was refused, as a sentence: of a plan it is the first fault.
func whole(r *steps.Refusal) string {
	if len(r.Faults) == 0 {
		return r.Message
	}
	first := r.Faults[0]
	return fmt.Sprintf("%s %s.", first.Field, strings.TrimSuffix(first.Message, "."))
}

// brief is an error of the JSON's reader, which repeats what it read, however long that is.
func brief(err error) string {
	if words := []rune(err.Error()); len(words) > maxWords {
		return string(words[:maxWords]) + "…"
	}
	return err.Error()
}

const maxWords = 150 // in characters

// readExport reads the form of an export, keeps its photos and calls each for its ops, one by one.
// The title is for people.
func readExport(from io.Reader, photos *photosIn, each func(steps.Entry) error) (title string, err error) {
	in := &piecewise{from: from}
	in.d = json.NewDecoder(in)
	in.photos = photos
	err = in.export(func(e steps.Entry) error {
		in.failed = each(e)
		return in.failed
	})
	var refusal *steps.Refusal
	switch {
	case in.failed != nil:
		return in.title, in.failed
	case err == nil, errors.As(err, &refusal):
		return in.title, err
	}
	return in.title, badImport("This is no exported session, or it was changed since: %s. Export it again.", brief(err))
}

// A piecewise reader gives a decoder of JSON no more than it needs for one value of an
// op's size.
type piecewise struct {
	from   io.Reader
	d      *json.Decoder
	given  int64
	title  string
	photos *photosIn
	failed error // of from, or of who gets the ops and photos
}

var errTooLong = fmt.Errorf("a part of it has more than %d bytes", steps.MaxOp)

func (p *piecewise) Read(data []byte) (int, error) {
	if p.given-p.d.InputOffset() > steps.MaxOp {
		return 0, errTooLong
	}
	n, err := p.from.Read(data)
	p.given += int64(n)
	if err != nil && err != io.EOF {
		p.failed = err
	}
	return n, err
}

var errNoExport = fmt.Errorf("an export has \"cornerwise\": %d, and then a history", exportVersion)

// export reads {"cornerwise": 1, "session": {...}, "history": [...]}.
func (p *piecewise) export(each func(steps.Entry) error) error {
	if err := p.delim('{'); err != nil {
		return err
	}
	version, histories := 0, 0
	for p.d.More() {
		key, err := p.d.Token()
		if err != nil {
			return err
		}
		switch key {
		case "cornerwise":
			if err := p.d.Decode(&version); err != nil {
				return err
			}
			if version > exportVersion {
				return badImport("This session was exported by a newer program. Import it with that one.")
			}
		case "session": // for people who look inside
			var head json.RawMessage
			if err := p.d.Decode(&head); err != nil {
				return err
			}
			var about struct{ Title string }
			json.Unmarshal(head, &about)
			p.title = briefly(about.Title)
		case "photos":
			if err := p.allPhotos(); err != nil {
				return err
			}
		case "history":
			if histories++; version != exportVersion || histories > 1 {
				return errNoExport
			}
			if err := p.history(each); err != nil {
				return err
			}
		default:
			return fmt.Errorf("it has a field %.40q", key)
		}
	}
	if err := p.delim('}'); err != nil {
		return err
	}
	if histories == 0 {
		return errNoExport
	}
	if _, err := p.d.Token(); err != io.EOF {
		return errors.New("something follows its end")
	}
	return nil
}

func (p *piecewise) delim(want json.Delim) error {
	got, err := p.d.Token()
	if err == nil && got != want {
		err = fmt.Errorf("at byte %d there is no %v", p.d.InputOffset(), want)
	}
	return err
}

func (p *piecewise) history(each func(steps.Entry) error) error {
	if err := p.delim('['); err != nil {
		return badImport("The history in this file can't be read: %s. Export it again.", brief(err))
	}
	n, begun := 0, p.d.InputOffset()
	for ; p.d.More(); n++ {
		var data json.RawMessage
		if err := p.d.Decode(&data); err != nil {
			return err
		}
		if p.d.InputOffset()-begun > maxHistory {
			return badImport("The history in this file has more than %d MiB, and no more are taken. Begin a new session on the same plan.", maxHistory>>20)
		}
		var e steps.Entry
		if err := strictly(data, &e); err != nil {
			return badImport("Op %d of the history can't be read: %s. Export it again.", n+1, brief(err))
		}
		if err := each(e); err != nil {
			return err
		}
	}
	if err := p.delim(']'); err != nil {
		return err
	}
	if n == 0 {
		return badImport("The history in this file is empty. Export it again.")
	}
	return nil
}

func (p *piecewise) allPhotos() error {
	if err := p.delim('['); err != nil {
		return err
	}
	for p.d.More() {
		var part photoPart
		if err := p.d.Decode(&part); err != nil {
			return err
		}
		if p.failed = p.photos.take(part); p.failed != nil {
			return p.failed
		}
	}
	if p.failed = p.photos.end(); p.failed != nil {
		return p.failed
	}
	return p.delim(']')
}

// strictly reads one JSON value in UTF-8 and minds what it does not know: to leave it out
// would lose it.
func strictly(data []byte, into any) error {
	if !utf8.Valid(data) {
		return errors.New("it is not UTF-8 text")
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	return d.Decode(into)
}

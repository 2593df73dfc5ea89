package session

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"

	"cornerwise/steps"
)

// BadImport is the code of the refusal of an export that can't be imported.
const BadImport = "bad-import"

// maxOpID is in bytes, and no op that steps took has more.
const maxOpID = 400

func badImport(format string, a ...any) error {
	return &steps.Refusal{Code: BadImport, Message: fmt.Sprintf(format, a...)}
}

// Import makes an exported session anew under a new id; its ops keep their ids and
// times. What was taken once is not judged again: a history of any edition up to today's
// gives the state that it has where it comes from. What no program could have taken is a
// *steps.Refusal with the code BadImport.
func (s *Store) Import(ctx context.Context, data []byte) (Head, error) {
	entries, err := readExport(data)
	if err != nil {
		return Head{}, err
	}
	latest := s.now().Add(24 * time.Hour)
	work, err := foldImport(ctx, entries, latest)
	if err != nil {
		return Head{}, err
	}
	return s.make(ctx, work, entries)
}

func readExport(data []byte) ([]steps.Entry, error) {
	var form exported
	if err := strictly(data, &form); err != nil {
		var version struct{ Cornerwise int }
		if json.Unmarshal(data, &version) != nil || version.Cornerwise <= exportVersion {
			return nil, badImport("This is no exported session, or it was changed since: %v. Export it again.", err)
		}
		form.Cornerwise = version.Cornerwise
	}
	switch {
	case form.Cornerwise > exportVersion:
		return nil, badImport("This session was exported by a newer program. Import it with that one.")
	case form.Cornerwise != exportVersion || form.History == nil:
		return nil, badImport("This is no exported session: an export has \"cornerwise\": %d and a history.", exportVersion)
	}
	var entries []steps.Entry
	if err := strictly(form.History, &entries); err != nil {
		return nil, badImport("The history in this file can't be read: %v. Export it again.", err)
	}
	if len(entries) == 0 {
		return nil, badImport("The history in this file is empty. Export it again.")
	}
	for i := range entries {
		e := &entries[i]
		e.Op, e.At = asKept(e.Op), e.At.UTC().Truncate(time.Millisecond)
	}
	return entries, nil
}

// strictly reads one JSON value and minds what it does not know: to leave it out
// would lose it.
func strictly(data []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); err != io.EOF {
		return errors.New("something follows its end")
	}
	return nil
}

func foldImport(ctx context.Context, entries []steps.Entry, latest time.Time) (work *steps.Work, err error) {
	seen := map[string]bool{}
	last, edition := time.Unix(0, 0), 0
	for i, e := range entries {
		rev := int64(i) + 1
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case e.Rev != rev:
			return nil, badImport("Op %d of the history has the revision %d. They must count up from 1 without a gap.", rev, e.Rev)
		case e.At.Before(last):
			return nil, badImport("Op %d of the history is earlier than the one before it. The order must be the order of time.", rev)
		case e.At.After(latest):
			return nil, badImport("Op %d of the history lies in the future. Set the clock of this computer, then import again.", rev)
		case e.ID == "" || len(e.ID) > maxOpID:
			return nil, badImport("Op %d of the history has no id, or one that is too long. Export it again.", rev)
		case seen[e.ID]:
			return nil, badImport("Op %d of the history is there twice. Export it again.", rev)
		case i == 0 && e.Kind != steps.KindPlan:
			return nil, badImport("The history must begin with the plan; here it begins with %.40q.", e.Kind)
		case e.Edition > steps.Edition():
			return nil, badImport("Op %d of the history was taken by a newer program. Import it with that one.", rev)
		case e.Edition < 0 || e.Edition != 0 && e.Edition < edition:
			return nil, badImport("Op %d of the history is of an older edition than the one before it. Export it again.", rev)
		}
		seen[e.ID], last, edition = true, e.At, max(edition, e.Edition)
		if err = errors.Join(e.Op.Check(), e.Op.Had()); err == nil {
			work, _, err = fold(work, e)
		}
		var refusal *steps.Refusal
		if errors.As(err, &refusal) {
			return nil, badImport("Op %d of the history can't have been taken: %s", rev, refusal.Message)
		}
		if err != nil {
			return nil, err
		}
	}
	return work, nil
}

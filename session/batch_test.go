package session

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// These reach inside, for what no caller can bring about: ops
// that share a commit, a commit that fails, a fault in steps.

func inside(t *testing.T) (*Store, Snapshot) {
	s, err := Open(filepath.Join(t.TempDir(), "cornerwise.db"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		s.db.View(func(tx *bolt.Tx) error {
			for err := range tx.Check() {
				t.Errorf("tx.Check: %v", err)
			}
			return nil
		})
		s.Close()
	})
	head, err := s.Create(context.Background(), json.RawMessage(`{"title": "Harbour lanterns",
		"center": {"width": "36 1/2", "length": "48 1/2"}, "borders": [{"name": "ticking", "cut": "5 1/2"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	snap, err := s.Get(head.ID)
	if err != nil {
		t.Fatal(err)
	}
	return s, snap
}

func noteOp(id string, w *steps.Work, text string) steps.Op {
	return steps.Op{ID: id, Kind: steps.KindNote, Step: w.Stages[0].Steps[0].ID, Text: text}
}

func tickOp(id, tick string) steps.Op {
	done := true
	return steps.Op{ID: id, Kind: steps.KindTick, Tick: tick, Done: &done}
}

func TestOpsOfOneCommitBuildOnEachOther(t *testing.T) {
	s, snap := inside(t)
	other, err := s.Create(context.Background(), snap.Work.Source)
	if err != nil {
		t.Fatal(err)
	}
	w, err := s.Watch(snap.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	var first, after string // after needs first
	for _, stage := range snap.Work.Stages {
		for _, step := range stage.Steps {
			for _, tick := range step.Ticks {
				if len(tick.Needs) == 1 && after == "" {
					if _, need := snap.Work.Tick(tick.Needs[0]); len(need.Needs) == 0 {
						first, after = need.ID, tick.ID
					}
				}
			}
		}
	}
	var got []string
	try := func(b *batch, id string, op steps.Op) {
		rev, err := b.do(id, op, reckoned{})
		got = append(got, fmt.Sprintf("%s %d %v", op.ID, rev, err != nil))
	}
	err = s.change(context.Background(), func(b *batch) error {
		try(b, snap.ID, tickOp("too soon", after))
		try(b, snap.ID, tickOp("first", first))
		try(b, other.ID, noteOp("first", snap.Work, "another session, the same op id"))
		try(b, snap.ID, tickOp("first", first))
		try(b, snap.ID, tickOp("after", after))
		try(b, snap.ID, tickOp("too soon", after))
		try(b, snap.ID, tickOp("wrong", "no such tick"))
		try(b, snap.ID, noteOp("note", snap.Work, "on we go"))
		return nil
	})
	want := "[too soon 0 true first 2 false first 2 false first 2 false after 3 false too soon 0 true wrong 0 true note 4 false]"
	if fmt.Sprint(got) != want || err != nil {
		t.Errorf("the commit answered %v, %v,\nwant %v", got, err, want)
	}
	for rev, id := range []string{2: "first", 3: "after", 4: "note"} {
		if id == "" {
			continue
		}
		if e := <-w.Events; e.Rev != int64(rev) || e.Op.ID != id {
			t.Errorf("told was op %q at revision %d, want %q at %d", e.Op.ID, e.Rev, id, rev)
		}
	}
	if heads, _, err := s.List(10, "", false); err != nil || len(heads) != 2 {
		t.Errorf("List = %+v, %v, want both sessions once", heads, err)
	}
}

func TestSessionUnbinnedAndWorkedOnInOneCommit(t *testing.T) {
	s, snap := inside(t)
	if err := s.Bin(context.Background(), snap.ID); err != nil {
		t.Fatal(err)
	}
	var rev int64
	err := s.change(context.Background(), func(b *batch) (err error) {
		d, err := b.draft(snap.ID)
		if err != nil {
			return err
		}
		d.head.Binned = time.Time{}
		rev, err = b.do(snap.ID, noteOp("a", snap.Work, "out of the bin"), reckoned{})
		return err
	})
	if got, getErr := s.Get(snap.ID); rev != 2 || err != nil || getErr != nil || got.Rev != 2 {
		t.Errorf("the op got revision %d, %v, and Get = %+v, %v; want 2 and 2", rev, err, got.Head, getErr)
	}
}

func TestCommitThatFailsKeepsAndTellsNothing(t *testing.T) {
	s, snap := inside(t)
	w, err := s.Watch(snap.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	op := noteOp("a", snap.Work, "a note")
	err = s.change(context.Background(), func(b *batch) error {
		if rev, err := b.do(snap.ID, op, reckoned{}); rev != 2 || err != nil {
			t.Errorf("do = %d, %v, want 2", rev, err)
		}
		b.err = errors.New("the disk is gone")
		return nil
	})
	if err == nil || err.Error() != "write cornerwise.db: the disk is gone" {
		t.Errorf("the answer is %v, want the fault of the disk", err)
	}
	if got, err := s.Get(snap.ID); err != nil || got.Head != snap.Head {
		t.Errorf("Get = %+v, %v, want it unchanged: %+v", got.Head, err, snap.Head)
	}
	if rev, err := s.Do(context.Background(), snap.ID, op); rev != 2 || err != nil {
		t.Errorf("the same op sent again = %d, %v, want 2", rev, err)
	}
	if e := <-w.Events; e.Rev != 2 || len(w.Events) != 0 {
		t.Errorf("told was revision %d and %d more, want 2 alone", e.Rev, len(w.Events))
	}
}

func TestPanicInStepsIsAnErrorOfThatOpAlone(t *testing.T) {
	s, snap := inside(t)
	other, err := s.Create(context.Background(), snap.Work.Source)
	if err != nil {
		t.Fatal(err)
	}
	s.mu.Lock()
	s.loaded[snap.ID].work = &steps.Work{} // nothing in it that Apply could use
	s.mu.Unlock()
	_, err = s.Do(context.Background(), snap.ID, noteOp("a", snap.Work, "a secret"))
	var refusal *steps.Refusal
	if err == nil || errors.As(err, &refusal) || strings.Contains(err.Error(), "secret") {
		t.Errorf("Do = %v, want an error that is no refusal and tells nothing of the op", err)
	}
	if rev, err := s.Do(context.Background(), other.ID, noteOp("a", snap.Work, "a note")); rev != 2 || err != nil {
		t.Errorf("Do on another session = %d, %v, want 2", rev, err)
	}
}

// However many sessions are watched, few are in memory whole. Those who watch the others hear
// of the next op, and who reads one gets it as it is.
func TestMemoryHoldsFewSessions(t *testing.T) {
	t.Parallel()
	s, snap := inside(t)
	var watches []*Watch
	var ids []string
	for range maxLoaded + 10 {
		head, err := s.Create(context.Background(), snap.Work.Source)
		if err != nil {
			t.Fatal(err)
		}
		w, err := s.Watch(head.ID, 1)
		if err != nil {
			t.Fatal(err)
		}
		watches, ids = append(watches, w), append(ids, head.ID)
	}
	whole := func() (n int) {
		s.mu.Lock()
		defer s.mu.Unlock()
		for _, l := range s.loaded {
			if l.work != nil {
				n++
			}
		}
		return n
	}
	if n := whole(); n != maxLoaded {
		t.Errorf("%d sessions are in memory whole, want %d", n, maxLoaded)
	}
	for n, id := range ids {
		rev, err := s.Do(context.Background(), id, noteOp("a", snap.Work, "a"))
		if err != nil || rev != 2 {
			t.Fatalf("Do on session %d = %d, %v, want 2", n, rev, err)
		}
		if e := <-watches[n].Events; e.Rev != 2 {
			t.Errorf("the watch of session %d is told revision %d, want 2", n, e.Rev)
		}
		if now, err := s.Get(ids[(n+5)%len(ids)]); err != nil || now.Work == nil || now.Rev != 1 && n+5 < len(ids) {
			t.Errorf("Get = %+v, %v, want its work and revision 1", now.Head, err)
		}
	}
	if n := whole(); n != maxLoaded {
		t.Errorf("after an op on each %d sessions are in memory whole, want %d", n, maxLoaded)
	}
	for _, w := range watches {
		w.Close()
	}
	for range maxLoaded {
		if _, err := s.Create(context.Background(), snap.Work.Source); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(s.loaded); n != maxLoaded {
		t.Errorf("once nobody watches, %d sessions are remembered, want %d", n, maxLoaded)
	}
}

func TestReaderThatReadsBeforePublishTellsNothingTwice(t *testing.T) {
	s, snap := inside(t)
	s.mu.Lock()
	delete(s.loaded, snap.ID)
	s.mu.Unlock()
	b, err := s.write([]*request{{ctx: context.Background(), do: func(b *batch) error { _, err := b.do(snap.ID, noteOp("a", snap.Work, "a"), reckoned{}); return err }}})
	if err != nil {
		t.Fatal(err)
	}
	// On disk, and not published yet.
	w, err := s.Watch(snap.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	s.publish(b)
	if len(w.Missed) != 1 || len(w.Events) != 0 {
		t.Errorf("missed are %d, told %d; want revision 2 once", len(w.Missed), len(w.Events))
	}
	if _, err := s.Do(context.Background(), snap.ID, noteOp("b", snap.Work, "b")); err != nil {
		t.Fatal(err)
	}
	if e := <-w.Events; e.Rev != 3 {
		t.Errorf("the next event has revision %d, want 3", e.Rev)
	}
	if again, err := s.Watch(snap.ID, 1); err != nil || len(again.Missed) != 2 {
		t.Errorf("Watch from 1 tells %+v, %v, want revisions 2 and 3", again, err)
	}
}

func TestOpThatStepsNoLongerKnowStaysInHistory(t *testing.T) {
	s, snap := inside(t)
	err := s.change(context.Background(), func(b *batch) error {
		d, err := b.draft(snap.ID)
		if err != nil {
			return err
		}
		e := steps.Entry{Rev: 2, At: snap.Touched, Op: tickOp("old", "a.tick.of.long.ago")}
		kept, err := newRow(e)
		d.put(b, kept)
		d.head.Rev = 2
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	s.mu.Lock()
	delete(s.loaded, snap.ID)
	s.mu.Unlock()
	if got, err := s.Get(snap.ID); err != nil || got.Rev != 2 || got.Work == nil {
		t.Errorf("Get = %+v, %v, want revision 2", got.Head, err)
	}
	if entries, err := s.History(snap.ID); err != nil || len(entries) != 2 {
		t.Errorf("History = %+v, %v, want both ops", entries, err)
	}
	if rev, err := s.Do(context.Background(), snap.ID, noteOp("new", snap.Work, "on")); rev != 3 || err != nil {
		t.Errorf("Do = %d, %v, want 3", rev, err)
	}
}

// Many who wait share one sync, and no commit grows without end.
func TestACommitDoesAllThatWaitsUpToItsLimit(t *testing.T) {
	s := &Store{requests: make(chan *request, 2*maxCommit)}
	for range maxCommit + 10 {
		s.requests <- &request{}
	}
	for _, want := range []int{maxCommit, 12, 1} {
		if got := len(s.gather(&request{})); got != want {
			t.Errorf("gather is %d requests, want %d", got, want)
		}
	}
}

func TestAnImportHasNoMoreOpsThanAnyTop(t *testing.T) {
	i := importing{rows: make([]row, maxImport)}
	if err := i.take(steps.Entry{Rev: maxImport + 1}); err == nil || !strings.Contains(err.Error(), "more than 20000 ops") {
		t.Errorf("op %d: %v, want a refusal", maxImport+1, err)
	}
}

func TestEveryMigrationHasItsVersion(t *testing.T) {
	db, err := openBolt(filepath.Join(t.TempDir(), "cornerwise.db"), false)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := prepare(db); err != nil {
		t.Fatal(err)
	}
	mend := migrations
	defer func() { migrations = mend }()
	migrations = append(mend[:len(mend):len(mend)], func(tx *bolt.Tx) error {
		_, err := tx.CreateBucket([]byte("next"))
		return errors.Join(err, errors.New("and then the power went"))
	})
	if err := migrate(db); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("migrate to version %d: ", len(migrations))) {
		t.Errorf("migrate that fails: %v, want the version that it was for", err)
	}
	if version, err := versionOf(db); version != len(mend) || err != nil {
		t.Errorf("after it the version is %d, %v, want %d still", version, err, len(mend))
	}
	migrations[len(mend)] = func(tx *bolt.Tx) error { _, err := tx.CreateBucket([]byte("next")); return err }
	for range 2 {
		if err := migrate(db); err != nil {
			t.Errorf("migrate: %v", err)
		}
	}
	if version, err := versionOf(db); version != len(mend)+1 || err != nil {
		t.Errorf("the version is %d, %v, want %d", version, err, len(mend)+1)
	}
}

// A device that was away for a moment is told without a look into the file.
func TestWhatWasMissedComesFromMemoryAsFarAsItReaches(t *testing.T) {
	l := &loadedSession{head: Head{Rev: 10}}
	for rev := int64(6); rev <= 10; rev++ {
		l.recent = append(l.recent, newEvent(steps.Entry{Rev: rev}, steps.Change{}))
	}
	for since, want := range map[int64]int64{10: 0, 9: 1, 7: 3, 5: 5} {
		events, reaches := l.since(since)
		if !reaches || int64(len(events)) != want || want > 0 && events[0].Rev != since+1 {
			t.Errorf("since(%d) = %d events, %t, want %d from revision %d on", since, len(events), reaches, want, since+1)
		}
	}
	if events, reaches := l.since(4); reaches {
		t.Errorf("since(4) = %d events, want it read from the file", len(events))
	}
}

func TestDamageNamesTheFirstFaultAndCountsTheOthers(t *testing.T) {
	for _, c := range []struct {
		faults []string
		want   string
	}{
		{[]string{"page 4 is in use twice"}, "page 4 is in use twice: damaged"},
		{[]string{"page 4 is in use twice", "b", "c"}, "page 4 is in use twice, and 2 faults more: damaged"},
	} {
		if err := (&Report{Faults: c.faults}).damage(); !errors.Is(err, ErrDamaged) || err.Error() != c.want {
			t.Errorf("damage of %d faults: %v, want %q", len(c.faults), err, c.want)
		}
	}
	if err := (&Report{}).damage(); err != nil {
		t.Errorf("damage of no fault: %v, want none", err)
	}
}

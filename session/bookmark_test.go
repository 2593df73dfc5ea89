package session_test

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session"
	"cornerwise/steps"
)

// waitForBookmark waits until a session has a bookmark of its newest revision.
func waitForBookmark(t testing.TB, s *session.Store, id string) {
	t.Helper()
	within, cancel := context.WithTimeout(ctx, time.Minute)
	defer cancel()
	rev := get(t, s, id).Rev
	for s.BookmarkedAt(id) < rev {
		select {
		case <-within.Done():
			t.Fatalf("no bookmark of revision %d came, the last is of %d", rev, s.BookmarkedAt(id))
		case <-time.After(5 * time.Millisecond):
		}
	}
}

var bucketBookmarks = []byte("bookmarks")

// marked is a store in which two sessions have bookmarks, closed.
func marked(t *testing.T) (path, one, other string) {
	t.Helper()
	path = newPath(t)
	s := open(t, path, newClock().now)
	s.MarkAll()
	one, other = create(t, s).ID, create(t, s).ID
	for i, id := range []string{one, other} {
		do(t, s, id, note("op-1", get(t, s, id).Work, fmt.Sprint("note ", i)))
		waitForBookmark(t, s, id)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path, one, other
}

// inBookmarks changes what the file has in its bucket of bookmarks.
func inBookmarks(t *testing.T, path string, change func(b *bolt.Bucket)) {
	t.Helper()
	inFile(t, path, func(tx *bolt.Tx) { change(tx.Bucket(bucketBookmarks)) })
}

func noteOf(w *steps.Work) string { return w.Stages[0].Steps[0].Note }

// Nothing but its bookmark tells that a session was opened there, so a false one is made.
func TestASessionIsOpenedAtItsBookmark(t *testing.T) {
	path, one, other := marked(t)
	inBookmarks(t, path, func(b *bolt.Bucket) {
		kept, err := session.Unsealed([]byte(other), b.Get([]byte(other)))
		if err != nil {
			t.Fatal(err)
		}
		b.Put([]byte(one), session.Sealed([]byte(one), kept))
	})
	s := open(t, path, newClock().now)
	if got := noteOf(get(t, s, one).Work); got != "note 1" {
		t.Errorf("opened with the bookmark of another session: the note is %q, want its note 1", got)
	}
}

func TestABookmarkThatDoesNotCountIsNotOpened(t *testing.T) {
	for name, change := range map[string]func(kept []byte) []byte{
		"one of another program":  func(kept []byte) []byte { kept[0]++; return kept },
		"one of a later revision": func(kept []byte) []byte { kept[39]++; return kept },
		"one that is cut short":   func(kept []byte) []byte { return kept[:len(kept)/2] },
		"an empty one":            func(kept []byte) []byte { return nil },
	} {
		t.Run(name, func(t *testing.T) {
			path, one, other := marked(t)
			inBookmarks(t, path, func(b *bolt.Bucket) {
				kept, err := session.Unsealed([]byte(other), b.Get([]byte(other)))
				if err != nil {
					t.Fatal(err)
				}
				b.Put([]byte(one), session.Sealed([]byte(one), change(slices.Clone(kept))))
			})
			holdOpened(t, path, one)
		})
	}
	t.Run("one that the disk changed", func(t *testing.T) {
		path, one, _ := marked(t)
		inBookmarks(t, path, func(b *bolt.Bucket) {
			kept := slices.Clone(b.Get([]byte(one)))
			kept[len(kept)-1]++
			b.Put([]byte(one), kept)
		})
		holdOpened(t, path, one)
	})
}

// holdOpened holds the first session of marked to its own note, and the file to its check.
func holdOpened(t *testing.T, path, id string) {
	t.Helper()
	s := open(t, path, newClock().now)
	if got := noteOf(get(t, s, id).Work); got != "note 0" {
		t.Errorf("the note is %q, want note 0", got)
	}
	s.Close()
	checkFile(t, path)
}

func TestANewProgramMakesTheBookmarksOfTheOldAnew(t *testing.T) {
	path, one, other := marked(t)
	inBookmarks(t, path, func(b *bolt.Bucket) {
		kept, err := session.Unsealed([]byte(other), b.Get([]byte(other)))
		if err != nil {
			t.Fatal(err)
		}
		kept = slices.Clone(kept)
		kept[0]++
		b.Put([]byte(one), session.Sealed([]byte(one), kept))
	})
	s := open(t, path, newClock().now)
	waitForBookmark(t, s, one)
	s.Close()
	holdOpened(t, path, one)
}

func TestBookmarksAreNoPartOfWhatAStoreHolds(t *testing.T) {
	path, one, _ := marked(t)
	before, err := session.CheckFile(path)
	if err != nil {
		t.Fatal(err)
	}
	inBookmarks(t, path, func(b *bolt.Bucket) { b.Delete([]byte(one)) })
	after, err := session.CheckFile(path)
	if err != nil || after.Sum != before.Sum {
		t.Errorf("a bookmark is gone: CheckFile = %+v, %v, want the sum %s of before", after, err, before.Sum)
	}
}

// The plan of twelve borders is changed until a bookmark comes by itself; what is opened there
// is what was closed.
func TestALongHistoryGetsABookmark(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes as long as the history")
	}
	t.Parallel()
	path := newPath(t)
	s := open(t, path, newClock().now)
	head, err := s.Create(ctx, twelveBorders(1))
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for ; s.BookmarkedAt(head.ID) == 0; n++ {
		if n == 500 {
			t.Fatal("no bookmark came in 500 changes of the plan")
		}
		do(t, s, head.ID, steps.Op{ID: fmt.Sprint("op-", n), Kind: steps.KindPlan, Plan: twelveBorders(n)})
	}
	want := get(t, s, head.ID)
	s.Close()
	s = open(t, path, newClock().now)
	got := get(t, s, head.ID)
	if got.Head != want.Head || state(t, got.Work) != state(t, want.Work) {
		t.Errorf("after %d changes of the plan it is opened at %+v, want %+v, as it was", n, got.Head, want.Head)
	}
	rev := do(t, s, head.ID, steps.Op{ID: "undo", Kind: steps.KindUndo, Of: got.Work.Last.Op.ID})
	if rev != want.Rev+1 {
		t.Errorf("an undo after it makes revision %d, want %d", rev, want.Rev+1)
	}
}

// twelveBorders is a plan of twelve; n makes it another.
func twelveBorders(n int) json.RawMessage {
	var borders []map[string]string
	for i := range 12 {
		borders = append(borders, map[string]string{"name": fmt.Sprint("border ", i), "cut": fmt.Sprint(2+(n+i)%5, " 1/2")})
	}
	plan, err := json.Marshal(map[string]any{"title": "Harbour lanterns", "borders": borders,
		"center": map[string]string{"width": "36 1/2", "length": "48 1/2"}})
	if err != nil {
		panic(err)
	}
	return plan
}

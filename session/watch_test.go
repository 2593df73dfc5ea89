package session_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"runtime"
	"testing"
	"time"

	"cornerwise/session"
	"cornerwise/steps"
)

func watch(t *testing.T, s *session.Store, id string, since int64) *session.Watch {
	t.Helper()
	w, err := s.Watch(id, since)
	if err != nil {
		t.Fatalf("Watch(%d): %v", since, err)
	}
	t.Cleanup(w.Close)
	return w
}

// next is the next event, or fails.
func next(t *testing.T, w *session.Watch) session.Event {
	t.Helper()
	select {
	case e, more := <-w.Events:
		if !more {
			t.Fatal("the watch has ended")
		}
		return e
	case <-time.After(5 * time.Second):
		t.Fatal("no event came")
	}
	panic("not reached")
}

// ended waits for the end and tells how many events came before it.
func ended(t *testing.T, w *session.Watch) (n int) {
	t.Helper()
	limit := time.After(5 * time.Second)
	for {
		select {
		case _, more := <-w.Events:
			if !more {
				return n
			}
			n++
		case <-limit:
			t.Fatal("the watch has not ended")
		}
	}
}

// What a change of the plan makes new is most of the session. Kept for every device that
// might come back, it filled the memory.
func TestAChangeOfThePlanIsNotKept(t *testing.T) {
	s := newStore(t)
	snap := get(t, s, create(t, s).ID)
	live := watch(t, s, snap.ID, 1)
	const changes = 60
	before := heapInUse()
	for n := range changes {
		plan := fmt.Sprintf(`{"center": {"width": "%d", "length": "48"}, "borders": [{"cut": "3"}]}`, 36+n%2)
		do(t, s, snap.ID, steps.Op{ID: fmt.Sprint("plan ", n), Kind: steps.KindPlan, Plan: json.RawMessage(plan)})
		if e := next(t, live); e.Rev != int64(n+2) || len(e.Change.Stages) == 0 {
			t.Fatalf("the event of change %d has revision %d and %d stages", n, e.Rev, len(e.Change.Stages))
		}
	}
	if grown := heapInUse() - before; grown > 4<<20 {
		t.Errorf("after %d changes of the plan the memory has grown by %d KiB, want no more than 4096", changes, grown>>10)
	}
	for since, missed := range map[int64]int{changes: -1, changes + 1: 0} {
		w := watch(t, s, snap.ID, since)
		if whole := w.Start.Work != nil; whole != (missed < 0) {
			t.Errorf("Watch(%d): the whole state is %t, want %t", since, whole, missed < 0)
		}
	}
}

// A device that takes nothing is let go before what waits for it fills the memory.
func TestAWatchHoldsFewChangesOfThePlan(t *testing.T) {
	s := newStore(t)
	snap := get(t, s, create(t, s).ID)
	w := watch(t, s, snap.ID, 1)
	for n := range 20 {
		plan := fmt.Sprintf(`{"center": {"width": "%d", "length": "48"}, "borders": [{"cut": "3"}]}`, 36+n%2)
		do(t, s, snap.ID, steps.Op{ID: fmt.Sprint("plan ", n), Kind: steps.KindPlan, Plan: json.RawMessage(plan)})
	}
	if n := len(w.Events); n > 5 {
		t.Errorf("%d changes of the plan waited for a device that takes none, want 5 at most", n)
	}
}

func heapInUse() int64 {
	runtime.GC()
	runtime.GC() // what finalizers held
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

func TestWatchStart(t *testing.T) {
	t.Parallel()
	const revs = 260
	path := newPath(t)
	s := open(t, path, newClock().now)
	s.MarkNone() // from a bookmark on less is told
	snap := get(t, s, create(t, s).ID)
	live := watch(t, s, snap.ID, 1)
	var events []string // as they were told live, from revision 2
	for n := range revs - 1 {
		ready, _, _ := sortTicks(get(t, s, snap.ID).Work)
		switch op := note(fmt.Sprint(n), snap.Work, fmt.Sprint("note ", n)); {
		case n == 50:
			op.Kind, op.Plan, op.Step, op.Text = "plan", otherPlan, "", ""
			do(t, s, snap.ID, op)
		case n%3 == 0:
			do(t, s, snap.ID, tick(fmt.Sprint(n), ready[0], true))
		default:
			do(t, s, snap.ID, op)
		}
		data, _ := json.Marshal(next(t, live))
		events = append(events, string(data))
	}
	cases := []struct {
		name   string
		since  int64
		missed int // -1: the state instead
	}{
		{"a new device gets the state", 0, -1},
		{"a device in step misses nothing", revs, 0},
		{"one op behind", revs - 1, 1},
		{"a gap of 200 ops is told", revs - 200, 200},
		{"a gap of 201 ops is not", revs - 201, -1},
		{"a device ahead of the store gets the state", revs + 1, -1},
		{"nonsense gets the state", -4, -1},
	}
	for _, when := range []string{"from memory", "from the file"} {
		for _, c := range cases {
			t.Run(c.name+" "+when, func(t *testing.T) {
				w := watch(t, s, snap.ID, c.since)
				if whole := w.Start.Work != nil; whole != (c.missed < 0) || len(w.Missed) != max(c.missed, 0) {
					t.Fatalf("Watch(%d): state %v and %d missed, want state %v and %d missed", c.since, whole, len(w.Missed), c.missed < 0, max(c.missed, 0))
				}
				if w.Start.Work != nil {
					now := get(t, s, snap.ID)
					if w.Start.Head != now.Head {
						t.Errorf("Start is %+v, want %+v", w.Start.Head, now.Head)
					}
					differ(t, "Start", state(t, w.Start.Work), state(t, now.Work))
				}
				for i, e := range w.Missed {
					data, _ := json.Marshal(e)
					differ(t, fmt.Sprintf("missed event %d", i), string(data), events[int(c.since)-1+i])
				}
			})
		}
		s.Close()
		s = open(t, path, newClock().now)
	}
}

func TestWatchesStartedWhileOthersWriteMissNothing(t *testing.T) {
	t.Parallel()
	s := newStore(t)
	snap := get(t, s, create(t, s).ID)
	const revs = 300
	go func() {
		for n := range revs - 1 {
			s.Do(ctx, snap.ID, note(fmt.Sprint(n), snap.Work, fmt.Sprint(n)))
		}
	}()
	at := int64(1)
	for at < revs {
		w, err := s.Watch(snap.ID, at)
		if err != nil {
			t.Fatal(err)
		}
		if w.Start.Work != nil {
			t.Fatalf("Watch(%d) gives the state at %d, want what was missed", at, w.Start.Rev)
		}
		take := func(e session.Event) {
			if at++; e.Rev != at {
				t.Fatalf("event has revision %d, want %d", e.Rev, at)
			}
		}
		for _, e := range w.Missed {
			take(e)
		}
		for n := 0; n < 3 && at < revs; n++ {
			take(next(t, w))
		}
		w.Close()
	}
}

func TestSlowWatchEndsAndOthersGoOn(t *testing.T) {
	s := newStore(t)
	snap := get(t, s, create(t, s).ID)
	slow, brisk := watch(t, s, snap.ID, 1), watch(t, s, snap.ID, 1)
	for n := range 100 {
		do(t, s, snap.ID, note(fmt.Sprint(n), snap.Work, fmt.Sprint(n)))
		if got := next(t, brisk).Rev; got != int64(n)+2 {
			t.Fatalf("event %d has revision %d", n, got)
		}
	}
	if got := ended(t, slow); got != 64 {
		t.Errorf("the slow watch got %d events, want the 64 that it could hold", got)
	}
	if again := watch(t, s, snap.ID, 65); len(again.Missed) != 36 {
		t.Errorf("watching again from there tells %d missed events, want 36", len(again.Missed))
	}
}

func TestWatchHearsItsOwnSessionOnly(t *testing.T) {
	s := newStore(t)
	one, two := get(t, s, create(t, s).ID), create(t, s)
	w := watch(t, s, two.ID, 1)
	do(t, s, one.ID, note("n", one.Work, "not for the other"))
	do(t, s, two.ID, note("n", one.Work, "for the other"))
	if e := next(t, w); e.Op.Text != "for the other" || e.Rev != 2 || e.Change.Notes == nil {
		t.Errorf("the event is %+v, want the other session's op at revision 2", e)
	}
}

func TestRepeatedAndRefusedOpsAreNotTold(t *testing.T) {
	s := newStore(t)
	snap := get(t, s, create(t, s).ID)
	_, locked, _ := sortTicks(snap.Work)
	w := watch(t, s, snap.ID, 1)
	do(t, s, snap.ID, note("a", snap.Work, "a"))
	do(t, s, snap.ID, note("a", snap.Work, "a"))
	s.Do(ctx, snap.ID, tick("b", locked[0], true))
	do(t, s, snap.ID, note("c", snap.Work, "c"))
	if one, two := next(t, w), next(t, w); one.Op.ID != "a" || two.Op.ID != "c" {
		t.Errorf("told were %s and %s, want a and c", one.Op.ID, two.Op.ID)
	}
}

func TestWatchOfManySessionsOutlivesEviction(t *testing.T) {
	t.Parallel()
	s := newStore(t)
	snap := get(t, s, create(t, s).ID)
	w := watch(t, s, snap.ID, 1)
	for range 100 { // more than are kept in memory unwatched
		create(t, s)
	}
	do(t, s, snap.ID, note("a", snap.Work, "still here"))
	if got := next(t, w).Op.Text; got != "still here" {
		t.Errorf("the event is %q", got)
	}
}

func TestBinnedSession(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	snap := get(t, s, create(t, s).ID)
	do(t, s, snap.ID, note("before", snap.Work, "before"))
	before := get(t, s, snap.ID)
	w := watch(t, s, snap.ID, 2)
	for range 2 {
		if err := s.Bin(ctx, snap.ID); err != nil {
			t.Fatalf("Bin: %v", err)
		}
	}
	ended(t, w)
	for _, when := range []string{"at once", "after reopening"} {
		_, getErr := s.Get(snap.ID)
		_, doErr := s.Do(ctx, snap.ID, note("before", snap.Work, "before"))
		_, watchErr := s.Watch(snap.ID, 1)
		_, historyErr := s.History(snap.ID)
		_, exportErr := s.Export(snap.ID)
		for call, err := range map[string]error{"Get": getErr, "Do": doErr, "Watch": watchErr, "History": historyErr, "Export": exportErr} {
			if !errors.Is(err, session.ErrBinned) {
				t.Errorf("%s of a binned session %s: %v, want ErrBinned", call, when, err)
			}
		}
		bin, _, err := s.List(10, "", true)
		if err != nil || len(bin) != 1 || bin[0].ID != snap.ID || bin[0].Binned.IsZero() {
			t.Errorf("List of the bin %s = %+v, %v, want the session with its time", when, bin, err)
		}
		if list, _, _ := s.List(10, "", false); len(list) != 0 {
			t.Errorf("List %s = %+v, want nothing", when, list)
		}
		s.Close()
		s = open(t, path, newClock().now)
	}
	for range 2 {
		if err := s.Unbin(ctx, snap.ID); err != nil {
			t.Fatalf("Unbin: %v", err)
		}
	}
	if got := get(t, s, snap.ID); got.Head != before.Head {
		t.Errorf("restored it is %+v, want %+v", got.Head, before.Head)
	}
	if got := do(t, s, snap.ID, note("before", snap.Work, "before")); got != 2 {
		t.Errorf("an op from before gets revision %d, want 2 as then", got)
	}
	if bin, _, _ := s.List(10, "", true); len(bin) != 0 {
		t.Errorf("the bin holds %+v, want nothing", bin)
	}
}

func TestListIsPagedLastTouchedFirst(t *testing.T) {
	s := newStore(t)
	var want []string
	for range 25 {
		want = append([]string{create(t, s).ID}, want...)
	}
	work := get(t, s, want[0]).Work
	do(t, s, want[20], note("touch", work, "touched"))
	touched := want[20]
	want = append([]string{touched}, append(append([]string(nil), want[:20]...), want[21:]...)...)

	var got []string
	for after, pages := "", 0; ; pages++ {
		heads, next, err := s.List(7, after, false)
		if err != nil {
			t.Fatalf("List(7, %q): %v", after, err)
		}
		for _, h := range heads {
			got = append(got, h.ID)
		}
		if pages == 1 { // between two pages a session of a later one is touched
			do(t, s, want[24], note("move", work, "moved to the front"))
			want = want[:24]
		}
		if after = next; next == "" {
			break
		}
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the pages have\n%v, want\n%v", got, want)
	}
	if heads, next, err := s.List(25, "", false); len(heads) != 25 || next != "" || err != nil {
		t.Errorf("List of exactly all = %d heads, next %q, %v; want 25, no next", len(heads), next, err)
	}
	if _, _, err := s.List(5, "nobody", false); !errors.Is(err, session.ErrNotFound) {
		t.Errorf("List after an unknown id: %v, want ErrNotFound", err)
	}
}

// The session that a page ended with was put into the bin before the next is asked for.
func TestListGoesOnWhereABinnedSessionWas(t *testing.T) {
	s := newStore(t)
	var ids []string // last touched first
	for range 4 {
		ids = append([]string{create(t, s).ID}, ids...)
	}
	for _, at := range []int{1, 3} {
		if err := s.Bin(ctx, ids[at]); err != nil {
			t.Fatal(err)
		}
		heads, next, err := s.List(10, ids[at], false)
		var got []string
		for _, h := range heads {
			got = append(got, h.ID)
		}
		want := ids[at+1:]
		if fmt.Sprint(got) != fmt.Sprint(want) || next != "" || err != nil {
			t.Errorf("List after the binned %d. = %v, next %q, %v, want %v", at+1, got, next, err, want)
		}
	}
}

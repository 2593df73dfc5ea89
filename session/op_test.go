package session_test

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"cornerwise/session"
	"cornerwise/steps"
)

func TestCreateMakesRevisionOne(t *testing.T) {
	s := newStore(t)
	head := create(t, s)
	snap := get(t, s, head.ID)
	if snap.Head != head || head.Rev != 1 || head.Done != 0 || head.Total == 0 ||
		head.Title != "Harbour lanterns & tide" || head.Stage != snap.Work.Stages[0].ID || len(head.ID) != 26 {
		t.Errorf("Create = %+v, then Get = %+v", head, snap.Head)
	}
	entries := history(t, s, head.ID)
	if len(entries) != 1 || entries[0].Kind != steps.KindPlan || entries[0].Rev != 1 || entries[0].ID == "" || !entries[0].At.Equal(head.Touched) {
		t.Errorf("History = %+v, want the plan at revision 1 and time %v", entries, head.Touched)
	}
	if other := create(t, s); other.ID == head.ID {
		t.Error("two sessions got one id")
	}
}

func TestCreateRefusesPlanThatCannotBe(t *testing.T) {
	s := newStore(t)
	_, err := s.Create(ctx, []byte(`{"center": {"width": "-3", "length": "1"}, "borders": []}`))
	var refusal *steps.Refusal
	if !errors.As(err, &refusal) || refusal.Code != steps.BadPlan {
		t.Errorf("Create of nonsense: %v, want a refusal %q", err, steps.BadPlan)
	}
	if heads, _, err := s.List(10, "", false); len(heads) != 0 || err != nil {
		t.Errorf("List = %v, %v, want nothing", heads, err)
	}
}

func TestUnknownSessionIsNotFound(t *testing.T) {
	s := newStore(t)
	for _, id := range []string{"", "nobody", "head", "sessions/../meta"} {
		_, getErr := s.Get(id)
		_, doErr := s.Do(ctx, id, tick("a", "b", true))
		_, watchErr := s.Watch(id, 3)
		_, historyErr := s.History(id)
		_, exportErr := s.Export(id)
		for call, err := range map[string]error{"Get": getErr, "Do": doErr, "Watch": watchErr, "History": historyErr,
			"Export": exportErr, "Bin": s.Bin(ctx, id), "Unbin": s.Unbin(ctx, id)} {
			if !errors.Is(err, session.ErrNotFound) {
				t.Errorf("%s(%q): %v, want ErrNotFound", call, id, err)
			}
		}
	}
}

func TestSameOpTwiceGetsSameAnswer(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	snap := get(t, s, create(t, s).ID)
	ready, all, _ := sortTicks(snap.Work)
	locked := all[len(all)/2]

	rev := do(t, s, snap.ID, tick("one", ready[0], true))
	_, clash := s.Do(ctx, snap.ID, tick("two", locked, true))
	var refusal *steps.Refusal
	if !errors.As(clash, &refusal) || refusal.Code != steps.NotYet || len(refusal.Missing) == 0 {
		t.Fatalf("Do of a locked tick: %v, want a refusal %q with what is missing", clash, steps.NotYet)
	}
	// From here on "two" could be taken, and must not be.
	w := get(t, s, snap.ID).Work
	for n, free := 0, false; !free; n++ {
		ready, _, _ := sortTicks(w)
		do(t, s, snap.ID, tick(fmt.Sprint("more ", n), ready[0], true))
		w = get(t, s, snap.ID).Work
		free = true
		_, later := w.Tick(locked)
		for _, need := range later.Needs {
			_, n := w.Tick(need)
			free = free && n.Done
		}
	}
	before := get(t, s, snap.ID)

	for _, when := range []string{"at once", "after reopening"} {
		if got := do(t, s, snap.ID, tick("one", ready[0], true)); got != rev {
			t.Errorf("the first op %s: revision %d, want %d", when, got, rev)
		}
		_, err := s.Do(ctx, snap.ID, tick("two", locked, true))
		var again *steps.Refusal
		if !errors.As(err, &again) || fmt.Sprint(*again) != fmt.Sprint(*refusal) {
			t.Errorf("the refused op %s: %v, want the same refusal as before: %v", when, err, refusal)
		}
		if got := get(t, s, snap.ID).Head; got != before.Head {
			t.Errorf("%s the head is %+v, want it unchanged: %+v", when, got, before.Head)
		}
		s.Close()
		s = open(t, path, newClock().now)
	}
	if got := do(t, s, snap.ID, tick("three", locked, true)); got != before.Rev+1 {
		t.Errorf("the same tick under a new op id: revision %d, want %d", got, before.Rev+1)
	}
}

func TestOpWrongInItselfIsRefusedAndChangesNothing(t *testing.T) {
	s := newStore(t)
	head := create(t, s)
	for name, op := range map[string]steps.Op{
		"no id":           {Kind: steps.KindTick},
		"no kind":         {ID: "a"},
		"an unknown tick": tick("b", "no such tick", true),
		"a broken plan":   {ID: "c", Kind: steps.KindPlan, Plan: []byte(`{"title`)},
	} {
		_, err := s.Do(ctx, head.ID, op)
		var refusal *steps.Refusal
		if !errors.As(err, &refusal) || refusal.Clash() {
			t.Errorf("Do with %s: %v, want a refusal that is no clash", name, err)
		}
	}
	if got := get(t, s, head.ID).Head; got != head {
		t.Errorf("the head is %+v, want it unchanged: %+v", got, head)
	}
}

func TestStateIsWhatTheOpsSayAfterReopening(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	id := create(t, s).ID
	for n := range 30 {
		ready, _, _ := sortTicks(get(t, s, id).Work)
		do(t, s, id, tick(fmt.Sprint("tick ", n), ready[0], true))
	}
	do(t, s, id, note("note", get(t, s, id).Work, "thread 50 <cotton> & needle 80"))
	do(t, s, id, steps.Op{ID: "plan", Kind: steps.KindPlan, Plan: otherPlan})
	live := get(t, s, id)
	s.Close()
	s = open(t, path, newClock().now)
	cold := get(t, s, id)
	if live.Head != cold.Head {
		t.Errorf("the head is %+v, before reopening it was %+v", cold.Head, live.Head)
	}
	differ(t, "the state after reopening", state(t, cold.Work), state(t, live.Work))
	differ(t, "the state", state(t, cold.Work), state(t, foldPlain(t, history(t, s, id))))
	if done, total := cold.Work.Progress(); cold.Done != done || cold.Total != total || cold.Title != "Harbour lanterns, wider" {
		t.Errorf("the head says %+v, the work %d of %d", cold.Head, done, total)
	}
}

func TestTimeNeverRunsBackwardsInASession(t *testing.T) {
	c := newClock()
	s := open(t, newPath(t), c.now)
	snap := get(t, s, create(t, s).ID)
	do(t, s, snap.ID, note("a", snap.Work, "a"))
	c.move(-5 * time.Hour)
	do(t, s, snap.ID, note("b", snap.Work, "b"))
	c.move(10 * time.Hour)
	do(t, s, snap.ID, note("c", snap.Work, "c"))
	entries := history(t, s, snap.ID)
	if !entries[2].At.Equal(entries[1].At) || entries[3].At.Sub(entries[2].At) < 4*time.Hour {
		t.Errorf("times are %v, %v, %v; want the second as the first, the third hours later", entries[1].At, entries[2].At, entries[3].At)
	}
	for _, e := range entries {
		if e.At.Location() != time.UTC || e.At != e.At.Truncate(time.Millisecond) {
			t.Errorf("time of revision %d = %v, want UTC to the millisecond", e.Rev, e.At)
		}
	}
	if got := get(t, s, snap.ID).Touched; !got.Equal(entries[3].At) {
		t.Errorf("Touched = %v, want the last op's time %v", got, entries[3].At)
	}
}

func TestManyWritersLoseAndDoubleNothing(t *testing.T) {
	const writers, each = 20, 30
	path := newPath(t)
	s := open(t, path, newClock().now)
	snap := get(t, s, create(t, s).ID)
	other := create(t, s)
	ready, _, _ := sortTicks(snap.Work)
	seen := make(chan []int64)
	go func() {
		var revs []int64
		for len(revs) < writers*each {
			// Where it falls too far behind it starts again from there.
			w, err := s.Watch(snap.ID, int64(len(revs))+1)
			if err != nil {
				t.Error(err)
				break
			}
			for _, e := range w.Missed {
				revs = append(revs, e.Rev)
			}
			for len(revs) < writers*each {
				e, more := <-w.Events
				if !more {
					break
				}
				revs = append(revs, e.Rev)
			}
			w.Close()
		}
		seen <- revs
	}()

	var mu sync.Mutex
	acked := map[int64]string{}
	var wg sync.WaitGroup
	for g := range writers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for n := range each {
				op := tick(fmt.Sprintf("%d-%d", g, n), ready[g%len(ready)], n%2 == 0)
				rev, err := s.Do(ctx, snap.ID, op)
				again, errAgain := s.Do(ctx, snap.ID, op)
				if err != nil || errAgain != nil || rev != again {
					t.Errorf("Do twice = %d, %v and %d, %v, want the same revision", rev, err, again, errAgain)
				}
				mu.Lock()
				if had := acked[rev]; had != "" {
					t.Errorf("revision %d went to both %s and %s", rev, had, op.ID)
				}
				acked[rev] = op.ID
				mu.Unlock()
				s.Get(other.ID)
			}
		}()
	}
	wg.Wait()
	entries := history(t, s, snap.ID)
	if len(entries) != 1+writers*each {
		t.Fatalf("History has %d ops, want %d", len(entries), 1+writers*each)
	}
	for _, e := range entries[1:] {
		if acked[e.Rev] != e.ID {
			t.Errorf("revision %d is op %s, acknowledged was %s", e.Rev, e.ID, acked[e.Rev])
		}
	}
	select {
	case revs := <-seen:
		for i, rev := range revs {
			if rev != int64(i)+2 {
				t.Fatalf("event %d has revision %d, want %d", i, rev, i+2)
			}
		}
	case <-time.After(10 * time.Second):
		t.Error("the watch did not get all events")
	}
	differ(t, "the state", state(t, get(t, s, snap.ID).Work), state(t, foldPlain(t, entries)))
}

func TestDoWithEndedContextIsNotKept(t *testing.T) {
	s := newStore(t)
	snap := get(t, s, create(t, s).ID)
	ended, cancel := context.WithCancel(ctx)
	cancel()
	if rev, err := s.Do(ended, snap.ID, note("a", snap.Work, "a")); rev != 0 || !errors.Is(err, context.Canceled) {
		t.Errorf("Do = %d, %v, want 0, context canceled", rev, err)
	}
	if got := get(t, s, snap.ID).Rev; got != 1 {
		t.Errorf("Rev = %d, want 1", got)
	}
}

package session_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"
)

// TestClockThatIsSetLosesNothing works on a session before and after the clock is
// set: forth by years, back, and to the 1970 of a computer without a battery.
func TestClockThatIsSetLosesNothing(t *testing.T) {
	for _, c := range []struct {
		name string
		by   time.Duration
		// What lies more than a day ahead is not imported: the sentence says to set the clock.
		imports bool
	}{
		{"back by an hour, as at the end of summer", -time.Hour, true},
		{"back by 20 hours", -20 * time.Hour, true},
		{"back to 1970", -time.Duration(newClock().at.UnixNano()), false},
		{"forth by 70 years", 70 * 365 * 24 * time.Hour, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := newPath(t)
			clock := newClock()
			s := open(t, path, clock.now)
			old := get(t, s, create(t, s).ID)
			for n := range 5 {
				do(t, s, old.ID, note(fmt.Sprint("before ", n), old.Work, fmt.Sprint(n)))
			}
			before := backUp(t, s)
			clock.move(c.by)
			w := watch(t, s, old.ID, 6)
			for n := range 5 {
				do(t, s, old.ID, note(fmt.Sprint("after ", n), old.Work, fmt.Sprint(n)))
				if e := next(t, w); e.Rev != int64(n)+7 {
					t.Errorf("told was revision %d, want %d", e.Rev, n+7)
				}
			}
			young := create(t, s).ID
			if after := backUp(t, s); after.Number != before.Number+1 {
				t.Errorf("the backup has number %d, want %d", after.Number, before.Number+1)
			}
			s.Close()
			s = open(t, path, clock.now)
			entries := history(t, s, old.ID)
			if len(entries) != 11 {
				t.Fatalf("History has %d ops, want 11", len(entries))
			}
			for i := range entries[1:] {
				if entries[i+1].At.Before(entries[i].At) {
					t.Errorf("op %d is of %v, before op %d of %v", i+2, entries[i+1].At, i+1, entries[i].At)
				}
			}
			seen := map[string]int{}
			for after := ""; ; {
				heads, next, err := s.List(1, after, false)
				if err != nil {
					t.Fatalf("List: %v", err)
				}
				for _, h := range heads {
					seen[h.ID]++
				}
				if after = next; next == "" {
					break
				}
			}
			if len(seen) != 2 || seen[old.ID] != 1 || seen[young] != 1 {
				t.Errorf("the list, a page at a time, has %v, want both once", seen)
			}
			data, err := s.Export(old.ID)
			if err != nil {
				t.Fatal(err)
			}
			head, err := s.Import(ctx, bytes.NewReader(data))
			if c.imports && (err != nil || head.Rev != 11) || !c.imports && (err == nil || !strings.Contains(err.Error(), "Set the clock")) {
				t.Errorf("Import of the export = %+v, %v, want revision 11: %v", head, err, c.imports)
			}
			if report, err := s.Check(ctx); err != nil || report.Sessions < 2 {
				t.Errorf("Check = %+v, %v, want the sessions and no fault", report, err)
			}
		})
	}
}

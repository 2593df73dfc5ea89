package main

import (
	"context"
	"path/filepath"
	"sync"
	"syscall"
	"testing"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/session"
)

// TestClockSetBackSinceTheLastOp serves a store whose ops are of the year 2090.
func TestClockSetBackSinceTheLastOp(t *testing.T) {
	data := t.TempDir()
	path := datafolder.Store(data)
	ahead := time.Date(2090, 5, 1, 9, 0, 0, 0, time.UTC)
	store, err := session.Open(path, func() time.Time { return ahead })
	if err != nil {
		t.Fatal(err)
	}
	head, err := store.Create(context.Background(), []byte(smallPlan))
	if err != nil {
		t.Fatal(err)
	}
	first, err := store.BackUp(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	store.Close()

	s := start(t, data)
	young, step := s.begin()
	var acked sync.Map
	for _, id := range []string{head.ID, young} {
		a, status, err := s.note(id, step, "today")
		if status != 200 || err != nil || a.Rev != 2 {
			t.Errorf("an op on %s: got %d %+v %v, want revision 2", id, status, a, err)
		}
		acked.Store("today", a.Rev)
		s.hold(id, &acked)
	}
	if code, _, stderr := once(nil, "backup", "--data", data, filepath.Join(t.TempDir(), "away.db")); code != 0 {
		t.Errorf("cornerwise backup: got exit %d, %q", code, stderr)
	}
	s.stop(syscall.SIGTERM)
	sound(t, data)
	newest, report, err := session.NewestGood(path)
	if err != nil || newest.Number <= first.Number || report.Ops != 4 || !newest.Made.Before(first.Made) {
		t.Errorf("the newest good backup is %+v with %+v, %v; want the one of today with 4 ops", newest, report, err)
	}
}

package session_test

import (
	"fmt"
	"path/filepath"
	"sync"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session"
	"cornerwise/steps"
)

// BenchmarkOpenAfter5000Ops is a session read from the file for the first time, at its bookmark.
func BenchmarkOpenAfter5000Ops(b *testing.B) {
	path := newPath(b)
	s := open(b, path, time.Now)
	id := longSession(b, s, 5000)
	s.Close()
	benchOpen(b, path, id, 5000)
}

// benchOpen opens a store and one of its sessions, and counts the session's time only.
func benchOpen(b *testing.B, path, id string, rev int64) {
	for b.Loop() {
		b.StopTimer()
		s, err := session.Open(path, time.Now)
		if err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		if snap := get(b, s, id); snap.Rev != rev {
			b.Fatalf("Rev = %d, want %d", snap.Rev, rev)
		}
		b.StopTimer()
		s.Close()
		b.StartTimer()
	}
}

// longSession ticks all there is, over and over.
func longSession(b *testing.B, s *session.Store, revs int64) string {
	snap := get(b, s, create(b, s).ID)
	work := snap.Work
	for n := snap.Rev; n < revs; n++ {
		ready, _, done := sortTicks(work)
		op := steps.Op{ID: fmt.Sprint("op ", n), Kind: steps.KindRedo}
		if len(ready) > 0 {
			op = tick(op.ID, ready[0], true)
		} else {
			op.Tick = done[0]
		}
		do(b, s, snap.ID, op)
		work = get(b, s, snap.ID).Work
	}
	return snap.ID
}

// BenchmarkDoBesideBolt is a tick through Do, and a put of the same size by
// bolt.Update, in the same run. x-bolt is how much longer Do takes.
func BenchmarkDoBesideBolt(b *testing.B) {
	for _, writers := range []int{1, 100} {
		b.Run(fmt.Sprintf("writers=%d", writers), func(b *testing.B) {
			s := open(b, newPath(b), time.Now)
			snap := get(b, s, create(b, s).ID)
			ready, _, _ := sortTicks(snap.Work)
			db, err := bolt.Open(filepath.Join(b.TempDir(), "bare.db"), 0o600,
				&bolt.Options{NoFreelistSync: true, FreelistType: bolt.FreelistArrayType})
			if err != nil {
				b.Fatal(err)
			}
			defer db.Close()
			name, value := []byte("puts"), make([]byte, 200)
			if err := db.Update(func(tx *bolt.Tx) error { _, err := tx.CreateBucket(name); return err }); err != nil {
				b.Fatal(err)
			}

			// One after the other, as the disk is not always as fast.
			var did, bare time.Duration
			b.ResetTimer()
			for from := 0; from < b.N; from += 500 {
				to := min(from+500, b.N)
				did += spread(b, writers, from, to, func(n int) error {
					_, err := s.Do(ctx, snap.ID, tick(fmt.Sprint(n), ready[n%len(ready)], n%2 == 0))
					return err
				})
				b.StopTimer()
				bare += spread(b, writers, from, to, func(n int) error {
					return db.Update(func(tx *bolt.Tx) error {
						return tx.Bucket(name).Put([]byte(fmt.Sprintf("%08d", n)), value)
					})
				})
				b.StartTimer()
			}
			b.ReportMetric(did.Seconds()/bare.Seconds(), "x-bolt")
		})
	}
}

// spread has many do the things of a range between them, and tells how long it took.
func spread(b *testing.B, many, from, to int, do func(int) error) time.Duration {
	start := time.Now()
	var wg sync.WaitGroup
	for g := range many {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := from + g; i < to; i += many {
				if err := do(i); err != nil {
					b.Error(err)
					return
				}
			}
		}()
	}
	wg.Wait()
	return time.Since(start)
}

// BenchmarkOpenAfter30ChangesOfThePlan is a session of twelve borders read from the file for the
// first time, at its bookmark.
func BenchmarkOpenAfter30ChangesOfThePlan(b *testing.B) {
	path := newPath(b)
	s := open(b, path, time.Now)
	head, err := s.Create(ctx, twelveBorders(0))
	if err != nil {
		b.Fatal(err)
	}
	for n := range 30 {
		do(b, s, head.ID, steps.Op{ID: fmt.Sprint("op-", n), Kind: steps.KindPlan, Plan: twelveBorders(n + 1)})
	}
	s.Close()
	benchOpen(b, path, head.ID, 31)
}

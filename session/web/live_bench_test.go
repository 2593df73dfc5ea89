package web_test

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// A bare is a bbolt file that gets one put of a size at a time, each durable: what
// all here is held against, turn about in the same run.
type bare struct {
	db *bbolt.DB
	n  int
}

func openBare(b *testing.B) *bare {
	db, err := bbolt.Open(filepath.Join(b.TempDir(), "bare.db"), 0o600,
		&bbolt.Options{NoFreelistSync: true, FreelistType: bbolt.FreelistArrayType})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { db.Close() })
	return &bare{db: db}
}

func (p *bare) put(b *testing.B, value string) time.Duration {
	begun := time.Now()
	p.n++
	err := p.db.Update(func(tx *bbolt.Tx) error {
		bucket, err := tx.CreateBucketIfNotExists([]byte("ops"))
		if err != nil {
			return err
		}
		return bucket.Put(fmt.Appendf(nil, "%08d", p.n), []byte(value))
	})
	if err != nil {
		b.Fatal(err)
	}
	return time.Since(begun)
}

func median(all []time.Duration) time.Duration {
	slices.Sort(all)
	return all[len(all)/2]
}

// BenchmarkSeenBesideBolt is the time from a device's tick until the last of the
// others has it, over websockets, as a multiple of a bare durable put, by medians.
// Wanted: at most 1.5 with one other device, 3 with a hundred.
func BenchmarkSeenBesideBolt(b *testing.B) {
	for _, others := range []int{1, 100} {
		b.Run(fmt.Sprintf("devices=%d", others), func(b *testing.B) {
			h := openHouse(b)
			id := h.begin()
			tick := h.state(id).ready()
			one := h.join(id, "")
			one.next()
			var seen sync.WaitGroup
			for range others {
				d := h.join(id, "")
				d.next()
				go func() {
					for {
						// To take it apart a hundred times would be the devices' work, not the server's.
						if _, data, err := d.conn.ReadMessage(); err != nil {
							return
						} else if bytes.Contains(data, []byte(`"changed":`)) {
							seen.Done()
						}
					}
				}()
			}
			put := openBare(b)
			var ticks, puts []time.Duration
			for n := 0; b.Loop(); n++ {
				op := tickOp(fmt.Sprint("op", n), tick, n%2 == 0)
				seen.Add(others)
				begun := time.Now()
				one.send(op)
				seen.Wait()
				ticks = append(ticks, time.Since(begun))
				for range 2 { // its own event and ack
					one.next()
				}
				puts = append(puts, put.put(b, op))
			}
			b.ReportMetric(float64(median(ticks).Microseconds()), "µs/tick")
			b.ReportMetric(float64(median(puts).Microseconds()), "µs/put")
			b.ReportMetric(float64(median(ticks))/float64(median(puts)), "tick/put")
		})
	}
}

// BenchmarkTickAfter5000 is a tick on a session with 5,000 ops, as a multiple of one
// on a session that is new, turn about, by medians. Wanted: at most 1.15.
func BenchmarkTickAfter5000(b *testing.B) {
	h := openHouse(b)
	long, short := h.begin(), h.begin()
	tick, step := h.state(long).ready(), h.state(long).Here
	for n := range 5000 {
		h.must(200, "POST", at(long, "ops"), noteOp(fmt.Sprint("note", n), step, fmt.Sprint("thread ", n)), nil)
	}
	devices := map[string]*device{}
	for _, id := range []string{long, short} {
		devices[id] = h.join(id, "")
		devices[id].next()
	}
	took := map[string][]time.Duration{}
	for n := 0; b.Loop(); n++ {
		for _, id := range []string{long, short} {
			begun := time.Now()
			devices[id].send(tickOp(fmt.Sprint("op", n), tick, n%2 == 0))
			for range 2 { // event and ack
				devices[id].next()
			}
			took[id] = append(took[id], time.Since(begun))
		}
	}
	b.ReportMetric(float64(median(took[long]).Microseconds()), "µs/late")
	b.ReportMetric(float64(median(took[short]).Microseconds()), "µs/first")
	b.ReportMetric(float64(median(took[long]))/float64(median(took[short])), "late/first")
}

package photo_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"cornerwise/calc/photo"
	"cornerwise/calc/photo/made"
)

// BenchmarkReadAndFlat tells the time for one picture, what it allocates, and the most that the
// heap holds at once (MB-peak), the picture's bytes and garbage not yet collected among it:
// go test ./calc/photo -run - -bench ReadAndFlat -benchtime 3x
func BenchmarkReadAndFlat(b *testing.B) {
	type taken struct {
		name string
		shot made.Shot
		pic  made.Picture
	}
	var pictures []taken
	for i, f := range made.Fabrics(1) {
		if slices.Contains([]string{"seven lines", "one-way floral", "calico"}, f.Name) {
			s := made.Shots(rand.New(rand.NewPCG(1, uint64(i))), 2400)[1]
			pic := made.Take(f, s, rand.New(rand.NewPCG(1, uint64(i))))
			pictures = append(pictures, taken{f.Name, s, pic})
		}
	}
	for _, p := range pictures {
		b.Run(p.name, func(b *testing.B) {
			b.ReportAllocs()
			runtime.GC() // the fabrics are gone: beside them nothing would be collected early
			runtime.GC()
			stop := watchHeap(b)
			for b.Loop() {
				got, err := photo.Read(context.Background(), p.pic.JPEG)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := got.Flat(context.Background(), askedOf(p.shot, p.pic)); err != nil {
					b.Fatal(err)
				}
			}
			stop()
		})
	}
}

// BenchmarkRefusing is of a picture of 12,000 by 12,000, by its header.
func BenchmarkRefusing(b *testing.B) {
	data := claims(12000, 12000, 0xc0)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := photo.Read(context.Background(), data); !errors.Is(err, photo.ErrTooManyPixels) {
			b.Fatal(err)
		}
	}
}

// watchHeap looks at the heap every 2 ms and reports by how much it grew at most.
func watchHeap(b *testing.B) (stop func()) {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	before, most := m.HeapAlloc, m.HeapAlloc
	done := make(chan struct{})
	var wg sync.WaitGroup
	wg.Go(func() {
		for {
			select {
			case <-done:
				return
			case <-time.After(2 * time.Millisecond):
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapAlloc)
			}
		}
	})
	return func() {
		close(done)
		wg.Wait()
		b.ReportMetric(float64(most-before)/1e6, "MB-peak")
	}
}

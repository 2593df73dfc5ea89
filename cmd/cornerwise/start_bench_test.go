package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/session"
	"cornerwise/steps"
)

// BenchmarkFirstPage is the time from the start of the program until it has given
// out its first page, with one session of ten ops stored and with 10,000 of them.
func BenchmarkFirstPage(b *testing.B) {
	for _, sessions := range []int{1, 10_000} {
		b.Run(fmt.Sprintf("sessions=%d", sessions), func(b *testing.B) {
			data := b.TempDir()
			path := datafolder.Store(data)
			multiply(b, path, sessions)
			report, err := session.CheckFile(path)
			if err != nil || report.Sessions != sessions {
				b.Fatalf("CheckFile = %+v, %v, want %d sessions", report, err, sessions)
			}
			for b.Loop() {
				s := start(b, data)
				if status, err := s.call("GET", "/", "", nil); status != 200 {
					b.Fatalf("GET /: got %d, %v", status, err)
				}
				b.StopTimer()
				s.stop(syscall.SIGTERM)
				os.RemoveAll(filepath.Join(data, "backups"))
				b.StartTimer()
			}
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/start")
			b.ReportMetric(float64(report.Size)/(1<<20), "MiB")
		})
	}
}

// multiply makes a store with one session and puts copies of it beside it.
func multiply(b *testing.B, path string, sessions int) {
	b.Helper()
	ctx := context.Background()
	s, err := session.Open(path, time.Now)
	if err != nil {
		b.Fatal(err)
	}
	head, err := s.Create(ctx, []byte(smallPlan))
	if err != nil {
		b.Fatal(err)
	}
	snap, err := s.Get(head.ID)
	for n := 0; n < 9 && err == nil; n++ {
		_, err = s.Do(ctx, head.ID, steps.Op{ID: fmt.Sprint(n), Kind: steps.KindNote, Step: snap.Work.Here, Text: fmt.Sprint("thread ", n)})
	}
	if err != nil {
		b.Fatal(err)
	}
	s.Close()
	db, err := bolt.Open(path, 0o600, nil)
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	err = db.Update(func(tx *bolt.Tx) error {
		all := tx.Bucket([]byte("sessions"))
		for n := range sessions - 1 {
			id := fmt.Sprintf("%026d", n)
			to, err := all.CreateBucket([]byte(id))
			if err != nil {
				return err
			}
			one := all.Bucket([]byte(head.ID))
			written := bytes.ReplaceAll(one.Get([]byte("head"))[8:], []byte(head.ID), []byte(id))
			if err := to.Put([]byte("head"), seal("head", string(written))); err != nil {
				return err
			}
			for _, name := range []string{"ops", "seen"} {
				copied, err := to.CreateBucket([]byte(name))
				if err != nil {
					return err
				}
				if err := one.Bucket([]byte(name)).ForEach(copied.Put); err != nil {
					return err
				}
			}
			recent := tx.Bucket([]byte("recent"))
			key, _ := recent.Cursor().Last()
			listed := string(key[:8]) + id
			if err := recent.Put([]byte(listed), seal(listed, "")); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
}

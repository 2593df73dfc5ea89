package main

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/session"
)

// A restore while it serves: with clients at work, the server lets go of the store,
// sends every device away to come back, and goes on with the backup at its old
// address. Each op that was answered is either in what was set aside or in the store,
// once; what was not taken was refused with a sentence.
func TestRestoreWhileServing(t *testing.T) {
	data := t.TempDir()
	s := start(t, data)
	id, step := s.begin()
	file := filepath.Join(t.TempDir(), "away.db")
	s.works("backup", file)
	device := s.listen(id, 1)
	acked := map[string]int64{}
	var mu sync.Mutex
	done := make(chan struct{})
	var clients sync.WaitGroup
	for client := range 4 {
		clients.Go(func() {
			for i := 0; ; i++ {
				select {
				case <-done:
					return
				default:
				}
				op := fmt.Sprintf("%d-%d", client, i)
				a, status, err := s.note(id, step, op)
				switch {
				case err == nil && status == 200:
					mu.Lock()
					acked[op] = a.Rev
					mu.Unlock()
				case err != nil || status != 503 || !strings.Contains(a.Error.Message, "Do it again in a moment"):
					t.Errorf("op %s while a backup is put in place: got %d, %v, %+v, want 200 or a 503 with a sentence", op, status, err, a)
					return
				}
			}
		})
	}
	more := func() {
		for was := s.rev(id); s.rev(id) < was+20; {
			time.Sleep(time.Millisecond)
		}
	}
	more()
	if said := s.works("restore", file); !strings.Contains(said, "Restored from "+file+": 1 session, 1 op") || strings.Contains(said, "those of the backup") {
		t.Errorf("cornerwise restore while it serves: said %q, want one op, and the devices of today", said)
	}
	if err := device.goodbye(); !websocket.IsCloseError(err, websocket.CloseServiceRestart) {
		t.Errorf("a device that listened: got %v, want that the server starts anew", err)
	}
	more()
	close(done)
	clients.Wait()
	sound(t, data)
	now := s.revs(id)
	s.stop(syscall.SIGTERM)
	sound(t, data)
	aside, _ := filepath.Glob(filepath.Join(data, datafolder.StoreFile+".set-aside-*"))
	if len(aside) != 1 {
		t.Fatalf("set aside: got %v, want the one store", aside)
	}
	other := t.TempDir()
	if err := os.Rename(aside[0], datafolder.Store(other)); err != nil {
		t.Fatal(err)
	}
	past := start(t, other).revs(id)
	for op, rev := range acked {
		if past[op]+now[op] != rev { // a rev is 1 or more
			t.Errorf("op %s was answered as rev %d: it has %d in what was set aside, %d in the store", op, rev, past[op], now[op])
		}
	}
	if len(past) < 20 || len(now) < 20 {
		t.Errorf("%d ops before the restore and %d after it: this proves nothing", len(past), len(now))
	}
}

// A restore that is killed while the server stands aside for it leaves the server
// serving; one that waits its turn gets it.
func TestServerGoesOnWhenARestoreIsKilled(t *testing.T) {
	data := t.TempDir()
	s := start(t, data)
	id, step := s.begin()
	ctx, kill := context.WithCancel(context.Background())
	back, err := local.Borrow(ctx, data)
	if err != nil {
		t.Fatalf("the server does not stand aside: %v", err)
	}
	defer back()
	if _, status, err := s.note(id, step, "meanwhile"); status != 503 || err != nil {
		t.Errorf("an op meanwhile: got %d, %v, want 503", status, err)
	}
	if _, err := session.Examine(datafolder.Store(data)); err != nil {
		t.Errorf("the store: %v, want it let go", err)
	}
	second := make(chan error)
	go func() {
		back, err := local.Borrow(context.Background(), data)
		if err == nil {
			back()
		}
		second <- err
	}()
	kill()
	if err := <-second; err != nil {
		t.Errorf("the next one to ask: %v, want its turn", err)
	}
	for end := time.Now().Add(patience); ; time.Sleep(5 * time.Millisecond) {
		if _, status, err := s.note(id, step, "after"); status == 200 {
			break
		} else if time.Now().After(end) {
			t.Fatalf("an op afterwards: got %d, %v, want 200", status, err)
		}
	}
	s.stop(syscall.SIGTERM)
	sound(t, data)
}

// A stop while it stands aside is a stop.
func TestStopWhileStandingAside(t *testing.T) {
	data := t.TempDir()
	s := start(t, data)
	s.begin()
	back, err := local.Borrow(context.Background(), data)
	if err != nil {
		t.Fatalf("the server does not stand aside: %v", err)
	}
	defer back()
	if took := s.stop(syscall.SIGTERM); took > 2*time.Second {
		t.Errorf("it stopped in %v, want at most 2 s", took)
	}
	sound(t, data)
}

// A picture that a browser keeps of the quilt is not that of other work at the same revision.
func TestThePictureAfterARestoreIsAnother(t *testing.T) {
	s := start(t, t.TempDir())
	id, step := s.begin()
	file := filepath.Join(t.TempDir(), "away.db")
	s.works("backup", file)
	kept := ""
	picture := func() int {
		req, err := http.NewRequest(http.MethodGet, s.url+"/s/"+id+"/face.svg", nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("If-None-Match", kept)
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		kept = res.Header.Get("ETag")
		return res.StatusCode
	}
	s.note(id, step, "before")
	if first, again := picture(), picture(); first != 200 || again != 304 {
		t.Errorf("the picture: %d, then %d, want 200 and 304", first, again)
	}
	s.works("restore", file)
	s.note(id, step, "after")
	if status := picture(); status != 200 {
		t.Errorf("the picture of other work at the revision %d: %d, want 200", s.rev(id), status)
	}
}

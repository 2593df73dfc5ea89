package session_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"cornerwise/session"
	"cornerwise/steps"
)

// inOf is the context of the device that has the secret.
func inOf(t testing.TB, d *session.Devices, secret string) context.Context {
	t.Helper()
	_, in, ok := d.Enter(ctx, secret)
	if !ok {
		t.Fatal("Enter: it is not let in")
	}
	return in
}

// longHistory is an export with so many notes of 4,000 bytes after its plan.
func longHistory(t testing.TB, notes int) []byte {
	t.Helper()
	s := newStore(t)
	head := create(t, s)
	work := get(t, s, head.ID).Work
	entries := history(t, s, head.ID)
	for n := range notes {
		entries = append(entries, steps.Entry{Rev: int64(n) + 2, At: entries[0].At, Edition: entries[0].Edition,
			Op: note(fmt.Sprint("note ", n), work, strings.Repeat("\U0001f9f5", 1000))})
	}
	data, err := json.Marshal(map[string]any{"cornerwise": 1, "history": entries})
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func isSpent(err error) bool {
	var spent *session.Spent
	return errors.As(err, &spent)
}

// 24 quilts, however many are begun at once and however: then the owner is asked, who goes on,
// as the other devices do, and this one with what it has.
func TestADeviceBeginsSoManyQuilts(t *testing.T) {
	path, c := newPath(t), newClock()
	s := open(t, path, c.now)
	d := openDevices(t, s)
	secret, device := letIn(t, d, false)
	other, _ := letIn(t, d, false)
	in := inOf(t, d, secret)
	its := create(t, s)
	export, err := s.Export(its.ID)
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	var made, refused atomic.Int32
	for n := range 60 {
		all.Go(func() {
			var err error
			if n%2 == 0 {
				_, err = s.Create(in, plan)
			} else {
				_, err = s.Import(in, bytes.NewReader(export))
			}
			switch {
			case err == nil:
				made.Add(1)
			case isSpent(err):
				refused.Add(1)
			default:
				t.Errorf("quilt %d: %v", n, err)
			}
		})
	}
	all.Wait()
	if made.Load() != session.MaxSessions || refused.Load() != 60-session.MaxSessions {
		t.Errorf("of 60 at once %d were made and %d refused, want %d made", made.Load(), refused.Load(), session.MaxSessions)
	}
	heads, _, err := s.List(100, "", false)
	if err != nil || len(heads) != session.MaxSessions+1 {
		t.Errorf("the store has %d sessions, %v; want %d", len(heads), err, session.MaxSessions+1)
	}
	if _, err := s.Do(in, its.ID, note("1", get(t, s, its.ID).Work, "goes on")); err != nil {
		t.Errorf("an op of it then: %v, want it taken", err)
	}
	if _, err := s.Create(inOf(t, d, other), plan); err != nil {
		t.Errorf("a quilt of another device: %v, want it made", err)
	}
	create(t, s) // the owner's

	s.Close()
	s = open(t, path, c.now)
	d = openDevices(t, s)
	if _, err := s.Create(inOf(t, d, secret), plan); !isSpent(err) {
		t.Errorf("a quilt of it after a restart: %v, want *Spent", err)
	}
	if err := d.Allow(ctx, device.ID); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Create(inOf(t, d, secret), plan); err != nil {
		t.Errorf("a quilt of it once it is allowed more: %v, want it made", err)
	}
	for _, is := range d.List() {
		if is.Added.Sessions != 1 {
			t.Errorf("%s has added %+v, want one quilt", is.Name, is.Added)
		}
	}
}

// 16 MiB of records: ops, and what an import brings, which is taken whole or not at all. What is
// sent again is answered as it was.
func TestADeviceAddsSoManyBytes(t *testing.T) {
	path, c := newPath(t), newClock()
	s := open(t, path, c.now)
	d := openDevices(t, s)
	secret, device := letIn(t, d, false)
	in := inOf(t, d, secret)
	its := create(t, s)
	work := get(t, s, its.ID).Work
	if _, err := s.Do(in, its.ID, note("first", work, "a note")); err != nil {
		t.Fatal(err)
	}
	long := longHistory(t, 1200) // 5 MB and a little
	for n := range 4 {
		_, err := s.Import(in, bytes.NewReader(long))
		if n < 3 && err != nil || n == 3 && !isSpent(err) {
			t.Fatalf("import %d of 5 MB: %v", n+1, err)
		}
	}
	// The rest goes note by note, and then nothing does, until it is allowed more.
	var met error
	kept := 0
	for ; met == nil && kept < 1000; kept++ {
		_, met = s.Do(in, its.ID, note(fmt.Sprint("n", kept), work, strings.Repeat("\U0001f9f5", 1000)))
	}
	if !isSpent(met) {
		t.Fatalf("after 3 imports and %d notes: %v, want *Spent", kept, met)
	}
	added := d.List()[0].Added
	if most := int64(session.MaxBytes); added.Bytes > most || added.Bytes < most-5000 || added.Sessions != 3 {
		t.Errorf("it has added %+v, want 3 sessions and nearly %d bytes", added, most)
	}
	if rev, err := s.Do(in, its.ID, note("first", work, "a note")); rev != 2 || err != nil {
		t.Errorf("an op sent again = %d, %v, want the answer of before", rev, err)
	}
	if _, err := s.Do(ctx, its.ID, note("owner", work, "")); err != nil {
		t.Errorf("an op of the owner: %v, want it taken", err)
	}
	// A restart forgets a little at most.
	s.Close()
	s = open(t, path, c.now)
	d = openDevices(t, s)
	if was := d.List()[0].Added; added.Bytes-was.Bytes > 70<<10 || was.Bytes > added.Bytes {
		t.Errorf("after a restart it has added %+v, want nearly %+v", was, added)
	}
	if err := d.Allow(ctx, device.ID); err != nil {
		t.Fatal(err)
	}
	s.Close()
	s = open(t, path, c.now)
	d = openDevices(t, s)
	if _, err := s.Do(inOf(t, d, secret), its.ID, note("again", work, strings.Repeat("x", 1000))); err != nil {
		t.Errorf("once it is allowed more, and after a restart: %v, want it taken", err)
	}
	if err := d.Allow(ctx, "nosuch"); err != nil {
		t.Errorf("Allow for a device that is not known: %v", err)
	}
}

// A photo is charged at once. A restart forgets no more of it than of records.
func TestADeviceAddsSoManyBytesOfPhotos(t *testing.T) {
	path, c := newPath(t), newClock()
	s := open(t, path, c.now)
	d := openDevices(t, s)
	secret, _ := letIn(t, d, false)
	photo := func(n int) error {
		_, err := s.KeepPhoto(inOf(t, d, secret), bytes.Repeat([]byte{byte(n)}, 1<<20))
		return err
	}
	for n := range session.MaxBytes >> 20 {
		if err := photo(n); err != nil {
			t.Fatalf("photo %d of 1 MiB: %v", n+1, err)
		}
	}
	if err := photo(-1); !isSpent(err) {
		t.Errorf("a photo beyond that: %v, want *Spent", err)
	}
	if err := photo(0); err != nil {
		t.Errorf("the first one again: %v, want it kept", err)
	}
	s.Close()
	s = open(t, path, c.now)
	d = openDevices(t, s)
	if err := photo(-1); !isSpent(err) {
		t.Errorf("a photo beyond that after a restart: %v, want *Spent", err)
	}
}

// A whole border is far from what a device may add, so that who only sews is never asked.
func TestAQuiltIsFarBelowWhatADeviceMayAdd(t *testing.T) {
	s := newStore(t)
	d := openDevices(t, s)
	secret, _ := letIn(t, d, false)
	in := inOf(t, d, secret)
	head, err := s.Create(in, plan)
	if err != nil {
		t.Fatal(err)
	}
	for n := 0; ; n++ {
		ready, _, _ := sortTicks(get(t, s, head.ID).Work)
		if len(ready) == 0 {
			break
		}
		if _, err := s.Do(in, head.ID, tick(fmt.Sprintf("%032d", n), ready[0], true)); err != nil {
			t.Fatal(err)
		}
	}
	is := get(t, s, head.ID)
	added := d.List()[0].Added
	t.Logf("%d ticks add %d bytes", is.Done, added.Bytes)
	if per := added.Bytes / int64(is.Done); added.Bytes*100 > session.MaxBytes*int64(len(is.Work.Plan.Borders)) || per < 100 {
		t.Errorf("a quilt of %d borders and %d ticks adds %d bytes, want less than a hundredth of %d a border", len(is.Work.Plan.Borders), is.Done, added.Bytes, session.MaxBytes)
	}
}

// What is added to an account in memory is in that of its network too, which allows four times
// as much.
func TestANetworkAddsNoMoreThanFour(t *testing.T) {
	s := newStore(t)
	network := &session.Account{}
	made := 0
	for range 6 {
		in := session.Charged(ctx, &session.Account{Wider: network})
		for range session.MaxSessions + 1 {
			if _, err := s.Create(in, plan); err == nil {
				made++
			} else if !isSpent(err) {
				t.Fatal(err)
			}
		}
	}
	if made != 4*session.MaxSessions {
		t.Errorf("6 of a network made %d, want %d", made, 4*session.MaxSessions)
	}
	in := session.Charged(ctx, &session.Account{})
	if _, err := s.Create(in, plan); err != nil {
		t.Errorf("one from elsewhere: %v, want it made", err)
	}
}

package session_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session"
)

func openDevices(t testing.TB, s *session.Store) *session.Devices {
	t.Helper()
	d, err := session.OpenDevices(s)
	if err != nil {
		t.Fatalf("OpenDevices: %v", err)
	}
	return d
}

func letIn(t testing.TB, d *session.Devices, looks bool) (secret string, device session.Device) {
	t.Helper()
	secret, device, err := d.Pair(ctx, session.Guess{Token: d.Offer(session.Rights{Looks: looks}).Token, From: "here", Name: "Sewing room tablet"})
	if err != nil {
		t.Fatalf("Pair: %v", err)
	}
	return secret, device
}

func isIn(d *session.Devices, secret string) bool {
	_, _, ok := d.Enter(ctx, secret)
	return ok
}

func TestDeviceIsLetInOnceByAnOffer(t *testing.T) {
	for _, by := range []string{"token", "code", "code in groups"} {
		d := openDevices(t, newStore(t))
		o := d.Offer(session.Rights{})
		guess := session.Guess{From: "here", Name: "iPad"}
		switch by {
		case "token":
			guess.Token = o.Token
		case "code":
			guess.Code = o.Code
		default:
			guess.Code = " " + o.Code[:4] + "-" + o.Code[4:] + " "
		}
		secret, device, err := d.Pair(ctx, guess)
		if err != nil || device.Name != "iPad" || device.Looks || len(secret) < 26 {
			t.Errorf("by %s: Pair = %d characters, %+v, %v; want a device and its secret", by, len(secret), device, err)
		}
		if got, _, ok := d.Enter(ctx, secret); !ok || got.ID != device.ID {
			t.Errorf("by %s: Enter = %+v, %v, want the device", by, got, ok)
		}
		if _, _, err := d.Pair(ctx, guess); !errors.Is(err, session.ErrWrongCode) {
			t.Errorf("by %s: Pair again = %v, want ErrWrongCode", by, err)
		}
		if isIn(d, o.Token) || isIn(d, o.Code) || isIn(d, device.ID) || isIn(d, "") {
			t.Errorf("by %s: Enter by something else than the secret: it is let in", by)
		}
	}
}

func TestOfferEndsAfterTenMinutes(t *testing.T) {
	c := newClock()
	d := openDevices(t, open(t, newPath(t), c.now))
	first := d.Offer(session.Rights{})
	if again := d.Offer(session.Rights{}); again != first {
		t.Errorf("Offer again = %v, want the one that stands, %v", again, first)
	}
	if looks := d.Offer(session.Rights{Looks: true}); looks.Code == first.Code || !looks.Looks {
		t.Errorf("Offer to look = %v, want another", looks)
	}
	c.move(6 * time.Minute)
	second := d.Offer(session.Rights{})
	if second.Code == first.Code {
		t.Errorf("Offer with 4 minutes left = the same, want a new one")
	}
	c.move(4*time.Minute + 10*time.Second) // 10 minutes and more for the first
	if _, _, err := d.Pair(ctx, session.Guess{Code: first.Code, From: "here"}); !errors.Is(err, session.ErrWrongCode) {
		t.Errorf("Pair after 10 minutes = %v, want ErrWrongCode", err)
	}
	if _, _, err := d.Pair(ctx, session.Guess{Code: second.Code, From: "here"}); err != nil {
		t.Errorf("Pair by the second offer = %v, want it let in", err)
	}
}

// Offers with different rights stand beside each other, and each gives those and no others, for
// as long as the device is in.
func TestAnOfferGivesItsRights(t *testing.T) {
	path, c := newPath(t), newClock()
	s := open(t, path, c.now)
	d := openDevices(t, s)
	rights := []session.Rights{{}, {Looks: true}, {Only: "a"}, {Only: "b"}, {Looks: true, Only: "a"}}
	codes, secrets := map[string]session.Rights{}, map[string]session.Rights{}
	for _, may := range rights {
		codes[d.Offer(may).Code] = may
	}
	for _, may := range rights {
		if o := d.Offer(may); codes[o.Code] != may || o.Rights != may {
			t.Errorf("Offer(%+v) again = %+v, want the one that stands", may, o)
		}
	}
	if len(codes) != len(rights) {
		t.Fatalf("%d offers have %d codes", len(rights), len(codes))
	}
	for code, may := range codes {
		secret, device, err := d.Pair(ctx, session.Guess{Code: code, From: "here", Name: "iPad"})
		if err != nil || device.Rights != may {
			t.Errorf("Pair by the offer of %+v = %+v, %v", may, device, err)
		}
		secrets[secret] = may
	}
	b := backUp(t, s)
	s.Close()
	for _, again := range []string{"opened again", "after a restore"} {
		s := open(t, path, c.now)
		d := openDevices(t, s)
		for secret, may := range secrets {
			if device, _, ok := d.Enter(ctx, secret); !ok || device.Rights != may {
				t.Errorf("%s, the device of %+v is in: %t, as %+v", again, may, ok, device.Rights)
			}
		}
		s.Close()
		if _, err := session.Restore(path, b.Path, c.now(), letGo); err != nil {
			t.Fatal(err)
		}
		checkFile(t, path)
	}
}

// Each code that stands is one more that a guess may hit.
func TestFewOffersStandAtOnce(t *testing.T) {
	d := openDevices(t, newStore(t))
	first := d.Offer(session.Rights{})
	for n := range 16 {
		d.Offer(session.Rights{Only: fmt.Sprint(n)})
	}
	if _, _, err := d.Pair(ctx, session.Guess{Token: first.Token}); !errors.Is(err, session.ErrWrongCode) {
		t.Errorf("the first offer after 16 more: %v, want ErrWrongCode", err)
	}
	for n := range 16 {
		if _, _, err := d.Pair(ctx, session.Guess{Token: d.Offer(session.Rights{Only: fmt.Sprint(n)}).Token}); err != nil {
			t.Errorf("offer %d of the 16: %v, want it let in", n, err)
		}
	}
}

func TestWrongGuessesFromOneAddressAreFew(t *testing.T) {
	d := openDevices(t, newStore(t))
	o := d.Offer(session.Rights{})
	var soon *session.TooSoon
	for n := range 10 {
		if _, _, err := d.Pair(ctx, session.Guess{Code: "no", From: "10.0.0.1"}); !errors.Is(err, session.ErrWrongCode) {
			t.Errorf("wrong guess %d: %v, want ErrWrongCode", n+1, err)
		}
	}
	// Then the right one is not looked at either, from there; from elsewhere it is.
	if _, _, err := d.Pair(ctx, session.Guess{Code: o.Code, From: "10.0.0.1"}); !errors.As(err, &soon) || soon.Wait > time.Minute {
		t.Errorf("the right code after 10 wrong ones: %v, want a wait of a minute at most", err)
	}
	if _, _, err := d.Pair(ctx, session.Guess{Code: o.Code, From: "10.0.0.2"}); err != nil {
		t.Errorf("the right code from elsewhere: %v, want it let in", err)
	}
}

// A network of IPv6 is a whole home: one device's wrong guesses are not another's. But one
// device may take many of its addresses, so the network has a bound, which leaves something to
// those elsewhere.
func TestWrongGuessesOfANetworkAreBounded(t *testing.T) {
	d := openDevices(t, newStore(t))
	wrong := func(n, from int) (refused int) {
		for range n {
			_, _, err := d.Pair(ctx, session.Guess{Code: "no", From: fmt.Sprint("fd00::", from), Around: "fd00::/64"})
			if !errors.Is(err, session.ErrWrongCode) {
				refused++
			}
		}
		return refused
	}
	if got := wrong(12, 1); got != 2 {
		t.Errorf("12 wrong guesses of one address: %d refused, want 2", got)
	}
	if _, _, err := d.Pair(ctx, session.Guess{Code: d.Offer(session.Rights{}).Code, From: "fd00::2", Around: "fd00::/64"}); err != nil {
		t.Errorf("the right code of its neighbor: %v, want it let in", err)
	}
	if got := wrong(3, 3) + wrong(4, 4); got != 2 {
		t.Errorf("7 more of others in the network: %d refused, want 2", got)
	}
	if _, _, err := d.Pair(ctx, session.Guess{Code: d.Offer(session.Rights{}).Code, From: "192.168.7.2"}); err != nil {
		t.Errorf("the right code from elsewhere: %v, want it let in", err)
	}
	// The picture works from anywhere, whatever was guessed.
	for range 200 {
		d.Pair(ctx, session.Guess{Token: "no", From: "fd00::4", Around: "fd00::/64"})
	}
	if _, _, err := d.Pair(ctx, session.Guess{Token: d.Offer(session.Rights{}).Token, From: "fd00::4", Around: "fd00::/64"}); err != nil {
		t.Errorf("the right token from there: %v, want it let in", err)
	}
}

// 100 wrong guesses an hour at most: OWASP ASVS 4.0.3, 2.2.1.
func TestWrongGuessesInAllAreAHundredAnHour(t *testing.T) {
	c := newClock()
	d := openDevices(t, open(t, newPath(t), c.now))
	wrong := 0
	for n, end := 0, c.now().Add(time.Hour); c.now().Before(end); n++ {
		if _, _, err := d.Pair(ctx, session.Guess{Code: "no", From: fmt.Sprint(n)}); errors.Is(err, session.ErrWrongCode) {
			wrong++
		}
	}
	if wrong < 60 || wrong > 100 {
		t.Errorf("an hour of guesses, each from another address: %d were looked at, want 60 to 100", wrong)
	}
	// Who has the picture still comes in.
	if _, _, err := d.Pair(ctx, session.Guess{Token: d.Offer(session.Rights{}).Token, From: "here"}); err != nil {
		t.Errorf("by the picture meanwhile: %v, want it let in", err)
	}
}

func TestForgottenDeviceIsOutAtOnceAndForGood(t *testing.T) {
	path, c := newPath(t), newClock()
	s := open(t, path, c.now)
	d := openDevices(t, s)
	a, deviceA := letIn(t, d, false)
	b, _ := letIn(t, d, true)
	_, inA, _ := d.Enter(ctx, a)
	_, inB, _ := d.Enter(ctx, b)
	if err := d.Forget(ctx, deviceA.ID); err != nil {
		t.Fatalf("Forget: %v", err)
	}
	select {
	case <-inA.Done():
	default:
		t.Errorf("Forget: its context goes on, want it ended")
	}
	if isIn(d, a) || !isIn(d, b) {
		t.Errorf("after Forget of a: a is in %v, b %v; want only b", isIn(d, a), isIn(d, b))
	}
	s.Close()
	s = open(t, path, c.now)
	d = openDevices(t, s)
	if isIn(d, a) || !isIn(d, b) {
		t.Errorf("after reopening: a is in %v, b %v; want only b", isIn(d, a), isIn(d, b))
	}
	if list := d.List(); len(list) != 1 || !list[0].Looks || list[0].Name != "Sewing room tablet 2" {
		t.Errorf("List = %+v, want b, which looks", list)
	}
	o := d.Offer(session.Rights{})
	if err := d.ForgetAll(ctx); err != nil {
		t.Fatalf("ForgetAll: %v", err)
	}
	if _, _, err := d.Pair(ctx, session.Guess{Code: o.Code, From: "here"}); !errors.Is(err, session.ErrWrongCode) {
		t.Errorf("an offer after ForgetAll: %v, want ErrWrongCode", err)
	}
	s.Close()
	d = openDevices(t, open(t, path, c.now))
	if len(d.List()) != 0 || isIn(d, b) {
		t.Errorf("after ForgetAll and reopening: %+v, want none", d.List())
	}
	select {
	case <-inB.Done():
		t.Errorf("the context of an earlier Devices was ended by a later one")
	default:
	}
}

func TestDeviceLetInAnewReplacesItself(t *testing.T) {
	d := openDevices(t, newStore(t))
	old, _ := letIn(t, d, true)
	_, in, _ := d.Enter(ctx, old)
	secret, device, err := d.Pair(ctx, session.Guess{Token: d.Offer(session.Rights{}).Token, Name: "iPad", Old: old})
	if err != nil || device.Looks {
		t.Fatalf("Pair anew = %+v, %v, want it to tick", device, err)
	}
	if in.Err() == nil || isIn(d, old) || !isIn(d, secret) || len(d.List()) != 1 {
		t.Errorf("after it: the old one is in %v, the list %+v; want only the new one", isIn(d, old), d.List())
	}
}

func TestOnlyHashesAreOnTheDisk(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	d := openDevices(t, s)
	o := d.Offer(session.Rights{Looks: true})
	secret, _ := letIn(t, d, false)
	standing := d.Offer(session.Rights{})
	s.Close()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for what, text := range map[string]string{"the secret": secret, "the token": o.Token, "the code": o.Code, "the next token": standing.Token} {
		if bytes.Contains(file, []byte(text)) {
			t.Errorf("%s is in the file", what)
		}
	}
	if !bytes.Contains(file, []byte("Sewing room tablet")) {
		t.Errorf("the device's name is not in the file: this proves nothing")
	}
}

func TestSeenIsKeptEveryFewMinutes(t *testing.T) {
	path, c := newPath(t), newClock()
	s := open(t, path, c.now)
	d := openDevices(t, s)
	secret, device := letIn(t, d, false)
	c.move(time.Hour)
	if !isIn(d, secret) {
		t.Fatal("Enter after an hour: it is not let in")
	}
	s.Close()
	s = open(t, path, c.now)
	d = openDevices(t, s)
	if seen := d.List()[0].Seen; seen.Sub(device.Paired) < time.Hour || seen.Sub(device.Paired) > time.Hour+time.Minute {
		t.Errorf("Seen after reopening is %v after pairing, want about an hour", seen.Sub(device.Paired))
	}
	c.move(401 * 24 * time.Hour)
	if isIn(d, secret) {
		t.Errorf("Enter after 401 days: it is let in, want it to pair again")
	}
}

func TestDeviceRecordThatCannotBeReadPairsAgain(t *testing.T) {
	path, c := newPath(t), newClock()
	s := open(t, path, c.now)
	a, deviceA := letIn(t, openDevices(t, s), false)
	b, _ := letIn(t, openDevices(t, s), false)
	s.Close()
	harms := map[string]func(kept []byte) []byte{
		"a byte of it is another": func(kept []byte) []byte {
			return []byte(strings.Replace(string(kept), "Sewing", "Mowing", 1))
		},
		"it has no seal": func(kept []byte) []byte { return kept[8:] },
		"it is no JSON":  func([]byte) []byte { return seal(deviceA.ID, "\xff{") },
	}
	for name, harm := range harms {
		var good []byte
		inFile(t, path, func(tx *bolt.Tx) {
			devices := tx.Bucket([]byte("devices"))
			good = append([]byte(nil), devices.Get([]byte(deviceA.ID))...)
			devices.Put([]byte(deviceA.ID), harm(good))
		})
		report, err := session.CheckFile(path)
		if err != nil || report.Devices != 1 || report.Unread != 1 {
			t.Errorf("%s: CheckFile = %+v, %v, want one device, and one unread, which is no fault", name, report, err)
		}
		s := open(t, path, c.now)
		d := openDevices(t, s)
		if isIn(d, a) || !isIn(d, b) {
			t.Errorf("%s: it is in %v, the other %v; want only the other", name, isIn(d, a), isIn(d, b))
		}
		s.Close()
		// Neither does it go over to a backup that is put in place.
		b2 := filepath.Join(t.TempDir(), "backup.db")
		if _, err := session.Copy(path, b2); err != nil {
			t.Fatal(err)
		}
		if _, err := session.Restore(path, b2, c.now(), letGo); err != nil {
			t.Fatal(err)
		}
		if report, err := session.CheckFile(path); err != nil || report.Devices != 1 {
			t.Errorf("%s: after Restore, CheckFile = %+v, %v, want the other device", name, report, err)
		}
		inFile(t, path, func(tx *bolt.Tx) { tx.Bucket([]byte("devices")).Put([]byte(deviceA.ID), good) })
	}
	s = open(t, path, c.now)
	if d := openDevices(t, s); !isIn(d, a) || !isIn(d, b) {
		t.Errorf("the records as they were: want both in")
	}
}

func TestDevicesAreAHundred(t *testing.T) {
	d := openDevices(t, newStore(t))
	for range 100 {
		letIn(t, d, false)
	}
	if _, _, err := d.Pair(ctx, session.Guess{Token: d.Offer(session.Rights{}).Token}); !errors.Is(err, session.ErrManyDevices) {
		t.Errorf("the 101st: %v, want ErrManyDevices", err)
	}
	if d.Forget(ctx, d.List()[0].ID); len(d.List()) != 99 {
		t.Errorf("after Forget: %d, want 99", len(d.List()))
	}
	letIn(t, d, false)
}

func TestOneOfferLetsInOneOfMany(t *testing.T) {
	d := openDevices(t, newStore(t))
	o := d.Offer(session.Rights{})
	var all sync.WaitGroup
	var mu sync.Mutex
	in := 0
	for n := range 8 {
		all.Go(func() {
			if _, _, err := d.Pair(ctx, session.Guess{Code: o.Code, From: fmt.Sprint(n)}); err == nil {
				mu.Lock()
				in++
				mu.Unlock()
			}
		})
	}
	all.Wait()
	if in != 1 || len(d.List()) != 1 {
		t.Errorf("8 at once with one code: %d let in, %d listed; want 1", in, len(d.List()))
	}
}

func FuzzGuess(f *testing.F) {
	for _, typed := range []string{"", "12345678", "1234 5678", "1234-5678", "１２３４５６７８", "1e7", "-1234567", "\x00", strings.Repeat("1", 100)} {
		f.Add(typed, typed, "a\u202ename\n")
	}
	d := openDevices(f, newStore(f))
	f.Fuzz(func(t *testing.T, code, token, name string) {
		o := d.Offer(session.Rights{})
		bare := strings.Map(func(c rune) rune {
			if c >= '０' && c <= '９' {
				c += '0' - '０'
			}
			if c < '0' || c > '9' {
				return -1
			}
			return c
		}, code)
		_, device, err := d.Pair(ctx, session.Guess{Code: code, Token: token, Name: name, From: code})
		if right := token == o.Token || token == "" && bare == o.Code; err == nil && !right {
			t.Fatalf("Pair(%q, %q) is let in by %q", code, token, o.Code)
		}
		if err == nil {
			d.Forget(ctx, device.ID)
		}
		// The right code, dressed in what was typed, lets in or not, and never breaks.
		_, device, err = d.Pair(ctx, session.Guess{Code: o.Code[:4] + code + o.Code[4:], Name: name, From: name})
		if err == nil {
			if n := device.Name; !utf8.ValidString(n) || len([]rune(n)) > 44 || strings.ContainsAny(n, "\n\x00\u202e") || n == "" {
				t.Errorf("the name %q became %q, want one line of at most 40 characters", name, n)
			}
			d.Forget(ctx, device.ID)
		}
	})
}

package session_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"cornerwise/session"
)

// pinned is a clock that stands still until it is moved.
type pinned struct{ at time.Time }

func (p *pinned) now() time.Time { return p.at }

func pinnedDevices(t *testing.T) (*session.Devices, *session.Store, *pinned) {
	p := &pinned{time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)}
	s := open(t, newPath(t), p.now)
	return openDevices(t, s), s, p
}

func TestCodesAreReadAsPeopleTypeThem(t *testing.T) {
	for _, c := range []struct {
		name  string
		typed func(code string) string
		want  bool
	}{
		{"as it is", func(c string) string { return c }, true},
		{"with each separator", func(c string) string {
			return "\t" + c[:1] + " " + c[1:2] + "-" + c[2:3] + "." + c[3:4] + "\u00a0" + c[4:5] + "\u2013" + c[5:]
		}, true},
		{"in wide digits", func(c string) string {
			return strings.Map(func(d rune) rune { return d - '0' + '０' }, c)
		}, true},
		{"with a letter in it", func(c string) string { return c[:4] + "x" + c[4:] }, false},
		{"with a slash in it, the character before 0", func(c string) string { return c[:4] + "/" + c[4:] }, false},
		{"with a colon in it, the character after 9", func(c string) string { return c[:4] + ":" + c[4:] }, false},
		{"a digit short", func(c string) string { return c[:7] }, false},
		{"a digit long", func(c string) string { return c + "0" }, false},
		{"in 32 bytes", func(c string) string { return c + strings.Repeat(" ", 24) }, true},
		{"in 33 bytes", func(c string) string { return c + strings.Repeat(" ", 25) }, false},
		{"nothing", func(string) string { return "" }, false},
	} {
		d := openDevices(t, newStore(t))
		typed := c.typed(d.Offer(session.Rights{}).Code)
		_, _, err := d.Pair(ctx, session.Guess{Code: typed, From: "here"})
		if (err == nil) != c.want || err != nil && !errors.Is(err, session.ErrWrongCode) {
			t.Errorf("%s: Pair with the code %q = %v, want it let in: %t", c.name, typed, err, c.want)
		}
	}
}

// A code is no token and a token no code.
func TestATokenIsComparedWithTokensOnly(t *testing.T) {
	d := openDevices(t, newStore(t))
	o := d.Offer(session.Rights{})
	for _, g := range []session.Guess{{Token: o.Code}, {Code: o.Token}, {Token: "another", Code: o.Code}} {
		if _, _, err := d.Pair(ctx, g); !errors.Is(err, session.ErrWrongCode) {
			t.Errorf("Pair(%+v) = %v, want ErrWrongCode", g, err)
		}
	}
	if _, _, err := d.Pair(ctx, session.Guess{Token: o.Token, Code: "another"}); err != nil {
		t.Errorf("Pair by the token, with another code = %v, want it let in", err)
	}
}

func TestNamesOfDevicesAreOneLine(t *testing.T) {
	d := openDevices(t, newStore(t))
	for _, c := range []struct{ given, want string }{
		{"", "A device"},
		{" \n\t ", "A device"},
		{"  Sewing \x1f  room\x7f tablet\n", "Sewing room tablet"},
		{"~ \u2029|", "~ |"},
		{"a\u202ab\u202ec\u2066d\u2069e", "a b c d e"}, // what turns the direction of text
		{"a\u202fb", "a b"},                            // a narrow space
		{"\u2065x\u206ay", "\u2065x\u206ay"},           // the characters beside those
		{strings.Repeat("é", 40), strings.Repeat("é", 40)},
		{strings.Repeat("ü", 41), strings.Repeat("ü", 40)},
		{strings.Repeat("m", 39) + " n", strings.Repeat("m", 39)},
	} {
		_, device, err := d.Pair(ctx, session.Guess{Token: d.Offer(session.Rights{}).Token, Name: c.given})
		if err != nil {
			t.Fatal(err)
		}
		if device.Name != c.want {
			t.Errorf("the name %q became %q, want %q", c.given, device.Name, c.want)
		}
		d.Forget(ctx, device.ID)
	}
}

func TestOffersStandAndEndToTheSecond(t *testing.T) {
	d, _, clock := pinnedDevices(t)
	first := d.Offer(session.Rights{})
	if want := clock.at.Add(10 * time.Minute); !first.Until.Equal(want) {
		t.Errorf("the offer is good until %v, want %v", first.Until, want)
	}
	clock.at = clock.at.Add(5 * time.Minute)
	if again := d.Offer(session.Rights{}); again != first {
		t.Errorf("with 5 minutes left it is %+v, want the one that stands", again)
	}
	clock.at = clock.at.Add(time.Second)
	second := d.Offer(session.Rights{})
	if second == first {
		t.Error("with a second less it still stands, want a new one")
	}
	clock.at = first.Until.Add(-time.Second)
	if _, _, err := d.Pair(ctx, session.Guess{Code: first.Code}); err != nil {
		t.Errorf("a second before its end: Pair = %v, want it let in", err)
	}
	clock.at = second.Until
	if _, _, err := d.Pair(ctx, session.Guess{Code: second.Code}); !errors.Is(err, session.ErrWrongCode) {
		t.Errorf("at its end: Pair = %v, want ErrWrongCode", err)
	}
}

// Where one was used the others stand, each as it was.
func TestAnOfferThatIsUsedLeavesTheOthers(t *testing.T) {
	d, _, clock := pinnedDevices(t)
	var offers []session.Offer
	for range 3 {
		offers = append(offers, d.Offer(session.Rights{}), d.Offer(session.Rights{Looks: true}))
		clock.at = clock.at.Add(2*time.Minute + 31*time.Second)
	}
	if offers[0] != offers[2] || offers[2] == offers[4] {
		t.Fatalf("the offers are %+v, want two of each kind", offers)
	}
	for i, o := range []session.Offer{offers[1], offers[4], offers[0], offers[5]} {
		_, device, err := d.Pair(ctx, session.Guess{Code: o.Code})
		if err != nil || device.Looks != o.Looks {
			t.Errorf("offer %d: Pair = %+v, %v, want it let in as offered: %+v", i, device, err, o)
		}
	}
}

func TestDevicesStayFourHundredDays(t *testing.T) {
	const away = 400 * 24 * time.Hour
	d, s, clock := pinnedDevices(t)
	secret, device := letIn(t, d, false)
	clock.at = clock.at.Add(away)
	if isIn(d, secret) {
		t.Error("after 400 days it is let in, want it to pair again")
	}
	if again := openDevices(t, s); isIn(again, secret) || len(again.List()) != 0 {
		t.Errorf("after 400 days it is read from the store: %+v", again.List())
	}
	clock.at = clock.at.Add(-time.Second)
	if again := openDevices(t, s); !isIn(again, secret) {
		t.Error("a second before 400 days it is not read from the store")
	}
	if !isIn(d, secret) || !d.List()[0].Seen.Equal(clock.at) || !device.Seen.Equal(device.Paired) {
		t.Errorf("a second before 400 days: %+v, want it let in and seen", d.List())
	}
}

// What is on the disk may lag five minutes behind, and no more.
func TestSeenIsWrittenOnceFiveMinutesHavePassed(t *testing.T) {
	d, s, clock := pinnedDevices(t)
	secret, device := letIn(t, d, false)
	for _, c := range []struct{ after, want time.Duration }{
		{5*time.Minute - time.Second, 0},
		{5 * time.Minute, 5 * time.Minute},
		{9 * time.Minute, 5 * time.Minute},
		{10 * time.Minute, 10 * time.Minute},
	} {
		clock.at = device.Paired.Add(c.after)
		if !isIn(d, secret) {
			t.Fatalf("after %v it is not let in", c.after)
		}
		if got := openDevices(t, s).List()[0].Seen.Sub(device.Paired); got != c.want {
			t.Errorf("after %v the store says that it was seen after %v, want %v", c.after, got, c.want)
		}
	}
}

func TestDevicesAreListedLastSeenFirst(t *testing.T) {
	d, _, clock := pinnedDevices(t)
	var secrets []string
	for range 4 {
		secret, _ := letIn(t, d, false)
		secrets = append(secrets, secret)
	}
	clock.at = clock.at.Add(time.Minute)
	isIn(d, secrets[2])
	var names []string
	for _, device := range d.List() {
		names = append(names, device.Name)
	}
	want := "Sewing room tablet 3, Sewing room tablet, Sewing room tablet 2, Sewing room tablet 4"
	if got := strings.Join(names, ", "); got != want {
		t.Errorf("the list is %s, want %s", got, want)
	}
}

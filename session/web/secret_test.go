package web_test

import (
	"bytes"
	"log/slog"
	"math"
	"net/http"
	"strings"
	"sync"
	"testing"

	"cornerwise/session"
)

// A logbook is a log that goroutines share.
type logbook struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *logbook) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *logbook) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// What opens a door, or says what someone works on, is in no line of the log.
func TestTheLogHoldsNoSecret(t *testing.T) {
	h := openHouse(t)
	var log logbook
	h.web.Log = slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug}))
	id := h.begin()
	byCode, byToken, wrong, out := h.web.Devices.Offer(session.Rights{}), h.web.Devices.Offer(session.Rights{Looks: true}), h.visitor(), h.visitor()
	v, looks := h.visitor(), h.visitor()
	v.pair("code", byCode.Code)
	looks.pair("token", byToken.Token)
	wrong.pair("code", "13572468")
	wrong.pair("token", "WRONGTOKENWRONGTOKENWRONG1")
	out.cookies["x"] = &http.Cookie{Name: "cornerwise-device", Value: "STRANGECOOKIESTRANGECOOKIE"}
	out.get(at(id))
	out.op(id, noteOp("1", "x", "secret note"))
	v.op(id, noteOp("2", "nosuch", "secret note"))
	looks.op(id, noteOp("3", "x", "secret note"))
	v.get(at(id + "x"))
	d, _ := v.join(id)
	d.next()
	d.send(`{"op": "4", "kind": "note", "step": "nosuch", "text": "secret note"}`)
	d.next()
	h.call("POST", "/api/v1/sessions", `{"title": "secret title", "center": 7}`)
	text := log.String()
	if strings.Count(text, "msg=refused") < 6 || strings.Count(text, "msg=paired") != 2 {
		t.Fatalf("got the log %q, want what was refused and paired in it: else this proves nothing", text)
	}
	for _, secret := range []string{id, byCode.Code, byToken.Token, v.cookies["cornerwise-device"].Value,
		looks.cookies["cornerwise-device"].Value, h.web.Devices.List()[0].ID, "13572468", "WRONGTOKEN", "STRANGECOOKIE", "secret"} {
		if strings.Contains(text, secret) {
			t.Errorf("the log holds %q:\n%s", secret, text)
		}
	}
}

// ASVS 4.0.3, 3.2.2: 64 bits at least.
func TestIDsCanNotBeGuessed(t *testing.T) {
	h := openHouse(t)
	seen, letters := map[string]bool{}, map[rune]int{}
	const n = 60
	for range n {
		id := h.begin()
		if seen[id] || len(id) < 26 {
			t.Fatalf("got the id %q, want 26 characters that were not there before", id)
		}
		seen[id] = true
		for _, c := range id {
			letters[c]++
		}
	}
	// Each of 32 characters is as likely: 26 of them are 130 bits. 6 sigma either way.
	want := float64(n) * 26 / 32
	if len(letters) != 32 {
		t.Errorf("got %d different characters, want 32", len(letters))
	}
	for c, got := range letters {
		if math.Abs(float64(got)-want) > 6*math.Sqrt(want) {
			t.Errorf("the character %q came %d times, want about %.0f", c, got, want)
		}
	}
}

func TestNothingOfOneSessionIsInAnother(t *testing.T) {
	h := openHouse(t)
	a := h.made(`{"title": "Alpha quilt", "center": {"width": "20", "length": "20"}, "borders": [{"name": "alpha fabric", "cut": "3"}]}`)
	b := h.made(`{"title": "Bravo quilt", "center": {"width": "40", "length": "40"}, "borders": [{"name": "bravo fabric", "cut": "3"}]}`)
	h.must(200, "POST", at(b, "ops"), noteOp("secretop", h.state(b).Here, "bravo note"), nil)
	for _, path := range []string{at(a), at(a, "history"), at(a, "export"), "/s/" + a, "/s/" + a + "/sheet", "/s/" + a + "/drawings", "/s/" + a + "/shopping", "/s/" + a + "/stage/sew"} {
		got := h.call("GET", path, "")
		if got.status != 200 || !bytes.Contains(got.body, []byte("lpha")) && !strings.HasSuffix(path, "drawings") {
			t.Errorf("GET %s: got %d, want what is of the first", path, got.status)
		}
		for _, other := range []string{b, "ravo", "secretop"} {
			if bytes.Contains(got.body, []byte(other)) {
				t.Errorf("GET %s: holds %q of the other session", path, other)
			}
		}
	}
	// What lies in one can't be reached through the other, and its ops are not heard there.
	d := h.join(a, "")
	d.next()
	h.must(200, "POST", at(b, "ops"), noteOp("2", h.state(b).Here, "bravo again"), nil)
	h.must(200, "POST", at(a, "ops"), noteOp("secretop", h.state(a).Here, "alpha note"), nil) // the same id is another op here
	d.events(1, 2)
	if got := h.state(b).Rev; got != 3 {
		t.Errorf("the other one: got rev %d, want 3", got)
	}
}

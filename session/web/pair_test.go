package web_test

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"cornerwise/session"
)

// hers is this computer's address on her network: who comes by it is not at this
// computer, wherever the connection is from.
const hers = "192.168.7.2:8370"

// A visitor is a device on the network with a cookie jar of its own.
type visitor struct {
	h       *house
	cookies map[string]*http.Cookie
	agent   string
}

func (h *house) visitor() *visitor { return &visitor{h: h, cookies: map[string]*http.Cookie{}} }

func (v *visitor) headers() http.Header {
	header := http.Header{"User-Agent": {v.agent}}
	for _, c := range v.cookies {
		header.Add("Cookie", c.Name+"="+c.Value)
	}
	return header
}

// call follows no redirect.
func (v *visitor) call(method, path, kind, body string) response {
	v.h.t.Helper()
	req, err := http.NewRequest(method, v.h.url+path, strings.NewReader(body))
	if err != nil {
		v.h.t.Fatal(err)
	}
	req.Header, req.Host = v.headers(), hers
	if kind != "" {
		req.Header.Set("Content-Type", kind)
	}
	if method != http.MethodGet {
		req.Header.Set("Origin", "http://"+hers)
	}
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		v.h.t.Fatalf("%s %s: %v", method, path, err)
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if err != nil {
		v.h.t.Fatalf("%s %s: %v", method, path, err)
	}
	for _, c := range res.Cookies() {
		v.cookies[c.Name] = c
	}
	return response{res.StatusCode, res.Header, data}
}

func (v *visitor) get(path string) int { return v.call("GET", path, "", "").status }

func (v *visitor) pair(field, value string) response {
	return v.call("POST", "/pair", "application/x-www-form-urlencoded", url.Values{field: {value}}.Encode())
}

func (v *visitor) op(id, body string) response {
	return v.call("POST", at(id, "ops"), "application/json", body)
}

func (v *visitor) join(id string) (*device, int) {
	header := v.headers()
	header.Set("Host", hers)
	conn, res, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(v.h.url, "http")+at(id, "live"), header)
	if err != nil {
		if res == nil {
			v.h.t.Fatal(err)
		}
		return nil, res.StatusCode
	}
	v.h.t.Cleanup(func() { conn.Close() })
	return &device{v.h.t, conn}, res.StatusCode
}

func TestADevicePairsOnceAndStaysIn(t *testing.T) {
	for _, by := range []string{"code", "token"} {
		h := openHouse(t)
		id := h.begin()
		v := h.visitor()
		v.agent = "Mozilla/5.0 (iPad; CPU OS 12_5 like Mac OS X)"
		if got := v.call("GET", "/", "", ""); got.status != 303 || got.header.Get("Location") != "/pair" {
			t.Errorf("by %s: GET / unpaired: got %d to %q, want 303 to /pair", by, got.status, got.header.Get("Location"))
		}
		if got := v.get(at(id)); got != 401 {
			t.Errorf("by %s: the API unpaired: got %d, want 401", by, got)
		}
		if _, got := v.join(id); got != 401 {
			t.Errorf("by %s: the live connection unpaired: got %d, want 401", by, got)
		}
		o := h.web.Devices.Offer(session.Rights{})
		value := map[string]string{"code": o.Code, "token": o.Token}[by]
		got := v.pair(by, value)
		if got.status != 303 || got.header.Get("Location") != "/" || len(v.cookies) != 1 {
			t.Fatalf("by %s: POST /pair: got %d %s, cookies %v; want 303 to / and one cookie", by, got.status, got.body, v.cookies)
		}
		c := v.cookies["cornerwise-device"]
		if c == nil || !c.HttpOnly || c.SameSite != http.SameSiteLaxMode || c.Path != "/" || c.MaxAge < 365*24*3600 || c.Domain != "" || len(c.Value) < 26 {
			t.Errorf("by %s: got the cookie %v, want it HttpOnly, SameSite, for a year and this host only", by, c)
		}
		for path, want := range map[string]int{"/": 200, at(id): 200, "/s/" + id: 200, "/pair": 200} {
			if got := v.get(path); got != want {
				t.Errorf("by %s: GET %s paired: got %d, want %d", by, path, got, want)
			}
		}
		if got := v.op(id, tickOp("1", h.state(id).ready(), true)); got.status != 200 {
			t.Errorf("by %s: a tick: got %d %s, want 200", by, got.status, got.body)
		}
		if list := h.web.Devices.List(); len(list) != 1 || list[0].Name != "iPad" {
			t.Errorf("by %s: got the devices %+v, want one iPad", by, list)
		}
		if got := h.visitor().pair(by, value); got.status != 422 {
			t.Errorf("by %s: the same for another device: got %d, want 422", by, got.status)
		}
	}
}

func TestACookieThatIsNoneLetsNoOneIn(t *testing.T) {
	h := openHouse(t)
	h.visitor().pair("code", h.web.Devices.Offer(session.Rights{}).Code)
	for _, value := range []string{"", "x", strings.Repeat("A", 26), h.web.Devices.List()[0].ID, strings.Repeat("x", 8000)} {
		v := h.visitor()
		v.cookies["x"] = &http.Cookie{Name: "cornerwise-device", Value: value}
		if got := v.get("/api/v1/sessions"); got != 401 {
			t.Errorf("with the cookie %.30q: got %d, want 401", value, got)
		}
	}
}

func TestGuessesAreLimited(t *testing.T) {
	h := openHouse(t)
	o := h.web.Devices.Offer(session.Rights{})
	v := h.visitor()
	for n := range 10 {
		got := v.pair("code", "00000000")
		if got.status != 422 || !strings.Contains(string(got.body), "This code is not one") {
			t.Fatalf("guess %d: got %d, want 422 and a sentence", n+1, got.status)
		}
	}
	for field, value := range map[string]string{"code": o.Code, "token": "wrong"} {
		got := v.pair(field, value)
		if wait := got.header.Get("Retry-After"); got.status != 429 || wait == "" || wait == "0" || !strings.Contains(string(got.body), "too many wrong codes") {
			t.Errorf("then the %s %.5s…: got %d, Retry-After %q, want 429 and a wait", field, value, got.status, wait)
		}
	}
	if len(v.cookies) != 0 || len(h.web.Devices.List()) != 0 {
		t.Errorf("after it: cookies %v, devices %v; want none", v.cookies, h.web.Devices.List())
	}
	if got := v.pair("token", o.Token); got.status != 303 {
		t.Errorf("then the right token, which nobody guesses: got %d, want 303", got.status)
	}
}

func TestPairingFromAnotherOrigin(t *testing.T) {
	h := openHouse(t)
	o := h.web.Devices.Offer(session.Rights{})
	req, _ := http.NewRequest("POST", h.url+"/pair", strings.NewReader(url.Values{"code": {o.Code}}.Encode()))
	req.Host = hers
	req.Header = http.Header{"Content-Type": {"application/x-www-form-urlencoded"}, "Origin": {"http://evil.example"}}
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	if res.StatusCode != 403 || len(res.Cookies()) != 0 || len(h.web.Devices.List()) != 0 {
		t.Errorf("POST /pair from another origin: got %d, want 403 and nothing paired", res.StatusCode)
	}
}

func TestADeviceThatLooksTicksNothing(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	v := h.visitor()
	v.pair("token", h.web.Devices.Offer(session.Rights{Looks: true}).Token)
	tick := tickOp("1", h.state(id).ready(), true)
	if got := v.get(at(id)); got != 200 {
		t.Errorf("GET the session: got %d, want 200", got)
	}
	for _, path := range []string{at(id, "ops"), "/s/" + id + "/do", "/s/" + id + "/bin", "/new", "/demo", "/api/v1/sessions", "/api/v1/import"} {
		if got := v.call("POST", path, "application/json", tick); got.status != 403 {
			t.Errorf("POST %s: got %d, want 403", path, got.status)
		}
	}
	if got := v.call("DELETE", at(id), "", ""); got.status != 403 {
		t.Errorf("DELETE the session: got %d, want 403", got.status)
	}
	d, _ := v.join(id)
	d.next()
	d.send(tick)
	if m := d.next(); m.Nack == nil || m.Error.Code != "only-looks" || !sentence(m.Error.Message) {
		t.Errorf("a tick over the live connection: got %+v, want a nack, only-looks", m)
	}
	if rev := h.state(id).Rev; rev != 1 {
		t.Errorf("after it: rev %d, want 1", rev)
	}
	// It hears what others do.
	h.must(200, "POST", at(id, "ops"), tick, nil)
	if m := d.next(); m.Rev != 2 || m.Op == nil {
		t.Errorf("a tick of another: got %+v, want the event", m)
	}
	page := string(v.call("GET", "/s/"+id, "", "").body)
	wants(t, "its page", page, "data-looks", "This device looks on.")
	// Let in anew, it ticks.
	v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	if got := v.op(id, tickOp("2", h.state(id).ready(), true)); got.status != 200 || len(h.web.Devices.List()) != 1 {
		t.Errorf("a tick after pairing anew: got %d, devices %v; want 200 and one", got.status, h.web.Devices.List())
	}
}

func TestAForgottenDeviceIsOutAtOnce(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	v, other := h.visitor(), h.visitor()
	v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	gone := h.web.Devices.List()[0].ID
	other.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	d, _ := v.join(id)
	stays, _ := other.join(id)
	d.next()
	stays.next()
	begun := time.Now()
	if err := h.web.Devices.Forget(t.Context(), gone); err != nil {
		t.Fatal(err)
	}
	_, err := d.read()
	if !websocket.IsCloseError(err, websocket.ClosePolicyViolation) {
		t.Errorf("its live connection: got %v, want it closed with 1008", err)
	}
	if took := time.Since(begun); took > patience/2 {
		t.Errorf("its live connection: closed after %v, want at once", took)
	}
	if got := v.get(at(id)); got != 401 {
		t.Errorf("the API: got %d, want 401", got)
	}
	if got := v.get("/s/" + id); got != 303 {
		t.Errorf("a page: got %d, want 303", got)
	}
	if _, got := v.join(id); got != 401 {
		t.Errorf("the live connection again: got %d, want 401", got)
	}
	stays.send(noteOp("1", h.state(id).Here, "still here"))
	stays.events(1, 2)
}

// The headers of a change come, then its device is forgotten, then the rest comes: whatever it
// is, nothing is kept. The server says 100 as soon as it has let it in and waits for the rest.
func TestABodyThatComesAfterItsDeviceWasForgotten(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	for _, c := range []struct{ path, kind, body string }{
		{at(id, "ops"), "application/json", noteOp("1", h.state(id).Here, "too late")},
		{"/s/" + id + "/do", "application/x-www-form-urlencoded", url.Values{"op": {"1"}, "kind": {"note"}, "step": {h.state(id).Here}}.Encode()},
	} {
		v := h.visitor()
		v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
		conn, err := net.Dial("tcp", strings.TrimPrefix(h.url, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		conn.SetDeadline(time.Now().Add(patience))
		cookie := v.cookies["cornerwise-device"]
		fmt.Fprintf(conn, "POST %s HTTP/1.1\r\nHost: %s\r\nCookie: %s=%s\r\nContent-Type: %s\r\nContent-Length: %d\r\nExpect: 100-continue\r\n\r\n",
			c.path, hers, cookie.Name, cookie.Value, c.kind, len(c.body))
		from := bufio.NewReader(conn)
		if line, err := from.ReadString('\n'); err != nil || !strings.Contains(line, " 100 ") {
			t.Fatalf("POST %s, its headers: got %q, %v, want 100", c.path, line, err)
		}
		from.ReadString('\n')
		if err := h.web.Devices.ForgetAll(t.Context()); err != nil {
			t.Fatal(err)
		}
		io.WriteString(conn, c.body)
		res, err := http.ReadResponse(from, nil)
		if err != nil || res.StatusCode != 401 {
			t.Errorf("POST %s, its body: got %v, %v, want 401", c.path, res, err)
		}
	}
	if rev := h.state(id).Rev; rev != 1 {
		t.Errorf("after it: rev %d, want 1", rev)
	}
}

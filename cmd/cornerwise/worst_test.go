package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/url"
	"os"
	"strings"
	"sync"
	"time"
)

// work is what a person does: the page is open and hears the others, a tick every few seconds,
// and another page now and then.
func (g *guest) work(in shared, n int) {
	random := rand.New(rand.NewPCG(5, uint64(n)))
	g.until = g.end
	conn, err := g.join(in.id, 0)
	if err != nil {
		g.t.Errorf("device %d is not joined: %v", g.n, err)
		return
	}
	defer conn.Close()
	var hearing sync.WaitGroup
	defer hearing.Wait()
	defer conn.Close()
	hearing.Go(func() {
		for {
			if _, _, err := conn.ReadMessage(); err != nil {
				return
			}
		}
	})
	for i := n; time.Now().Before(g.end); i++ {
		switch random.IntN(8) {
		case 0:
			g.ask("page", "GET", "/s/"+in.id, "", nil, nil)
		case 1:
			g.ask("page", "GET", "/s/"+in.id+"/sheet", "", nil, nil)
		default:
			g.do("tick", in.id, fmt.Sprintf(`"kind": "tick", "tick": %q, "done": true`, in.ticks[i/8%len(in.ticks)]))
		}
		g.pause(time.Duration(1000+random.IntN(3000)) * time.Millisecond)
	}
}

// pause is over when the time is up.
func (g *guest) pause(d time.Duration) { time.Sleep(min(d, time.Until(g.end))) }

// The worst that a device may do, each until guest.until.
var deeds = []struct {
	name string
	do   func(*guest)
}{
	{"plans", (*guest).changePlans},
	{"imports", (*guest).importMuch},
	{"states", (*guest).readStates},
	{"slow reads", (*guest).readSlowly},
	{"live", (*guest).listenToNothing},
	{"large ops", (*guest).sendLargeOps},
	{"new sessions", (*guest).beginMany},
	{"half requests", (*guest).halfRequests},
	{"guesses", (*guest).guessCodes},
	{"cold sessions", (*guest).joinCold},
	{"slow pages", (*guest).readPagesSlowly},
	{"fabric at hand", (*guest).askForFabric},
	{"large pages", (*guest).readPages},
}

// doTheWorst does one deed after another, beginning with the nth.
func (g *guest) doTheWorst(n int) {
	g.until = g.end
	g.session = g.begin("own session", largePlan(0))
	each := max(*soakFor/time.Duration(len(deeds)), time.Second)
	for ; time.Now().Before(g.end); n++ {
		if g.until = time.Now().Add(each); g.until.After(g.end) {
			g.until = g.end
		}
		deeds[n%len(deeds)].do(g)
	}
}

// sideBySide does something on so many lines, again and again, each so often.
func (g *guest) sideBySide(lines int, each time.Duration, do func(line, n int)) {
	var all sync.WaitGroup
	for line := range lines {
		all.Go(func() {
			for n := 0; time.Now().Before(g.until); n++ {
				begun := time.Now()
				do(line, n)
				time.Sleep(min(time.Until(begun.Add(each)), time.Until(g.until)))
			}
		})
	}
	all.Wait()
}

func (g *guest) changePlans() {
	g.sideBySide(12, 600*time.Millisecond, func(line, n int) {
		g.do("plan", g.session, `"kind": "plan", "plan": `+largePlan(line+n))
	})
}

// importOf is a session of 16 MiB, whole or with a fault at its end.
func importOf(broken bool) []byte {
	var b bytes.Buffer
	b.WriteString(`{"cornerwise": 1, "history": [{"rev": 1, "at": "2026-01-01T00:00:00Z", "op": "first", "kind": "plan", "plan": ` + awayPlan + `}`)
	text := strings.Repeat("x", 700)
	rev := 2
	for ; b.Len() < 16<<20-2000 && rev < 20000; rev++ {
		fmt.Fprintf(&b, `,{"rev": %d, "at": "2026-01-01T00:00:01Z", "op": "op-%d", "kind": "note", "step": "press-center", "text": "%s"}`, rev, rev, text)
	}
	if broken {
		b.WriteString(`,{"rev": 1}`)
	}
	b.WriteString("]}")
	return b.Bytes()
}

var (
	wholeImport  = sync.OnceValue(func() []byte { return importOf(false) })
	brokenImport = sync.OnceValue(func() []byte { return importOf(true) })
)

func (g *guest) importMuch() {
	g.sideBySide(2, time.Second, func(line, n int) {
		data := brokenImport()
		if n%4 == 0 && line == 0 {
			data = wholeImport()
		}
		g.ask("import", "POST", "/api/v1/import", "application/json", bytes.NewReader(data), nil)
	})
}

func (g *guest) readStates() {
	g.sideBySide(15, 500*time.Millisecond, func(line, n int) {
		g.ask("state", "GET", "/api/v1/sessions/"+g.shared[0].id, "", nil, nil)
	})
}

// largest is a session of 16 MiB.
func (g *guest) largest() string {
	for time.Now().Before(g.until) {
		var made struct{ ID string }
		if g.ask("import", "POST", "/api/v1/import", "application/json", bytes.NewReader(wholeImport()), &made) == 201 {
			return made.ID
		}
		time.Sleep(time.Second)
	}
	return g.session
}

func (g *guest) readSlowly() {
	id := g.largest()
	g.sideBySide(16, time.Second, func(line, n int) {
		g.drink([]string{"/api/v1/sessions/" + id + "/export", "/api/v1/sessions/" + id + "/history"}[line%2])
	})
}

func (g *guest) readPagesSlowly() {
	g.sideBySide(16, time.Second, func(line, n int) {
		id := g.session
		g.drink([]string{"/s/" + id, "/s/" + id + "/drawings", "/s/" + id + "/plan", "/s/" + id + "/cutting"}[line%4], "Accept-Encoding: gzip\r\n")
	})
}

// drink reads an answer in sips.
func (g *guest) drink(path string, more ...string) {
	conn, err := g.raw("GET", path, more...)
	if err != nil {
		return
	}
	defer conn.Close()
	conn.SetDeadline(g.until)
	sip := make([]byte, 1024)
	if n, err := io.ReadFull(conn, sip[:12]); err == nil {
		g.answered("slow read", int(sip[9]-'0')*100+int(sip[10]-'0')*10+int(sip[11]-'0'), "")
	} else if n > 0 {
		g.answered("slow read", 0, "cut")
	}
	for time.Now().Before(g.until) {
		if _, err := conn.Read(sip); err != nil {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// listenToNothing has 16 live connections that are read seldom or never, on a session whose
// plan changes.
func (g *guest) listenToNothing() {
	g.sideBySide(16, time.Second, func(line, n int) {
		conn, err := g.join(g.session, 0)
		if err != nil {
			return
		}
		defer conn.Close()
		for time.Now().Before(g.until) {
			switch {
			case line == 0:
				g.do("plan", g.session, `"kind": "plan", "plan": `+largePlan(n))
			case line == 1:
				conn.SetReadDeadline(g.until)
				if _, _, err := conn.ReadMessage(); err != nil {
					return
				}
			}
			time.Sleep(500 * time.Millisecond)
		}
	})
}

// sendLargeOps sends what is as large as an op may be, and more: a note whose text is too long,
// a plan with blanks, and notes that are taken.
func (g *guest) sendLargeOps() {
	id := g.begin("large ops", awayPlan)
	g.sideBySide(10, 500*time.Millisecond, func(line, n int) {
		switch line % 5 {
		case 0:
			g.do("large note", id, `"kind": "note", "step": "press-center", "text": "`+strings.Repeat("x", 64<<10-200)+`"`)
		case 1:
			g.do("large plan", id, `"kind": "plan", "plan": `+strings.Repeat(" ", 60<<10)+awayPlan)
		case 2:
			g.do("too large", id, `"kind": "note", "step": "press-center", "text": "`+strings.Repeat("x", 80<<10)+`"`)
		default:
			g.do("long note", id, `"kind": "note", "step": "press-center", "text": "`+strings.Repeat("\U0001F9F5", 1000)+`"`)
		}
	})
}

// form is the heaviest plan as a form has it.
func form(n int) string {
	var plan struct {
		Center  struct{ Width, Length string }
		Borders []struct {
			Cut, CutTopBottom, Lengths, Motif, Stripe string
			Fabric                                    struct{ Name, UsableWidth, Runs string }
		}
	}
	json.Unmarshal([]byte(slowPlan(n)), &plan)
	sent := url.Values{"center.width": {plan.Center.Width}, "center.length": {plan.Center.Length}}
	for i, b := range plan.Borders {
		for name, value := range map[string]string{"cut": b.Cut, "cutTopBottom": b.CutTopBottom, "lengths": b.Lengths, "motif": b.Motif, "stripe": b.Stripe,
			"fabric.name": b.Fabric.Name, "fabric.usableWidth": b.Fabric.UsableWidth, "fabric.runs": b.Fabric.Runs} {
			sent.Set(fmt.Sprintf("borders[%d].%s", i, name), value)
		}
	}
	return sent.Encode()
}

func (g *guest) beginMany() {
	g.sideBySide(12, 600*time.Millisecond, func(line, n int) {
		if line%2 == 0 {
			g.ask("preview", "POST", "/new/preview", "application/x-www-form-urlencoded", strings.NewReader(form(line+n)), nil)
			return
		}
		g.ask("new session", "POST", "/api/v1/sessions", "application/json", strings.NewReader(slowPlan(line+n)), nil)
	})
}

// halfRequests opens all the connections that it gets: some say nothing, some half a head, and
// some the head of an op or, for a moment, of an import, with blanks after it.
func (g *guest) halfRequests() {
	lines := 200
	if os.Getenv("CORNERWISE_TEST_ALONE") == "" {
		lines = 64 // loopback's are not counted
	}
	g.sideBySide(lines, 500*time.Millisecond, func(line, n int) {
		var conn net.Conn
		var err error
		until := g.until
		switch line % 4 {
		case 0:
			until = time.Now().Add(time.Second) // one import is taken at a time
			conn, err = g.raw("POST", "/api/v1/import", "Content-Length: 16000000\r\n")
		case 1:
			conn, err = g.raw("POST", "/api/v1/sessions/"+g.session+"/ops", "Content-Length: 60000\r\n")
		default:
			if conn, err = g.dialContext(g.t.Context(), "tcp", ""); err == nil && line%4 == 2 {
				io.WriteString(conn, "GET / HTTP/1.1\r\nHost: ")
			}
		}
		if err != nil {
			return
		}
		defer conn.Close()
		conn.SetDeadline(g.until)
		for time.Now().Before(until) {
			time.Sleep(300 * time.Millisecond)
			if line%4 > 1 {
				if _, err := conn.Read(make([]byte, 1)); err != nil {
					return
				}
			} else if _, err := io.WriteString(conn, strings.Repeat(" ", 1000)); err != nil {
				return
			}
		}
	})
}

func (g *guest) guessCodes() {
	g.sideBySide(8, 100*time.Millisecond, func(line, n int) {
		if line%2 == 0 {
			g.ask("guess", "POST", "/pair", "application/x-www-form-urlencoded", strings.NewReader(fmt.Sprintf("code=%08d", line*1000+n)), nil)
			return
		}
		g.ask("guess", "POST", "/pair", "application/x-www-form-urlencoded", strings.NewReader("name="+strings.Repeat("x", 256<<10-100)), nil)
	})
}

// askForFabric asks again and again whether a piece of fabric does for the heaviest plan, and
// waits for no answer.
func (g *guest) askForFabric() {
	id := g.begin("slow plan", slowPlan(0))
	g.sideBySide(16, 500*time.Millisecond, func(line, n int) {
		ctx, cancel := context.WithTimeout(g.t.Context(), 400*time.Millisecond)
		defer cancel()
		path := fmt.Sprintf("/s/%s/cutting?border=%d&width=42&length=%d", id, line%12+1, 100+n)
		if res, err := g.client.Do(g.request("GET", path, "", nil).WithContext(ctx)); err == nil {
			res.Body.Close()
		}
	})
}

// readPages reads the largest pages of one quilt on all the lines that a device has.
func (g *guest) readPages() {
	pages := []string{"/drawings", "/sheet", "/cutting", "/keep", ""}
	g.sideBySide(16, 50*time.Millisecond, func(line, n int) {
		g.ask("large page", "GET", "/s/"+g.session+pages[(line+n)%len(pages)], "", nil, nil)
	})
}

// joinCold is on 16 large sessions, and comes back all the time.
func (g *guest) joinCold() {
	g.sideBySide(16, 100*time.Millisecond, func(line, n int) {
		id := g.begin("cold session", largePlan(line))
		for i := 0; id != "" && time.Now().Before(g.until); i++ {
			conn, err := g.join(id, 0)
			if err == nil {
				if line%2 == 0 {
					conn.SetReadDeadline(g.until)
					conn.ReadMessage()
				}
				time.Sleep(min(time.Duration(line)*200*time.Millisecond, time.Until(g.until)))
				conn.Close()
			} else {
				time.Sleep(200 * time.Millisecond)
			}
		}
	})
}

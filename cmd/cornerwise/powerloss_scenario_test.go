//go:build linux

package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/powerloss"
	"cornerwise/session/web"
	"cornerwise/steps"
)

// A scenario is what the program does when the power goes.
type scenario struct {
	name   string
	flags  []string
	before func(*outage) // brings about what is on the disk already
	record func(*outage)
}

var openFlag = []string{"--open"}

var scenarios = []scenario{
	{"first start", openFlag, func(r *outage) { r.data = filepath.Join(r.root, "share", "cornerwise") }, func(r *outage) {
		s := r.serve()
		r.ticks(s, r.create(s), 3)
	}},
	{"first start with https", []string{"--open", "--tls"}, nil, func(r *outage) {
		s := r.serve()
		id := r.create(s)
		r.ask(&promise{deed: "trust"}, func(p *promise) (err error) {
			p.answer, err = text(http.DefaultClient, "GET", s.url+"/authority.crt", "")
			return err
		})
		r.ticks(s, id, 2)
	}},
	{"pairing", nil, (*outage).emptyStore, func(r *outage) {
		s := r.serve()
		id := r.create(s)
		for n := range 3 {
			device := r.pair(s)
			r.ticks(s, id, 1)
			if n == 1 {
				r.ask(&promise{deed: "forget", answer: device}, func(*promise) error {
					_, secret, _ := strings.Cut(device, "=")
					_, err := text(noFollow(nil), "POST", fmt.Sprintf("%s/devices/%x/forget", s.url, sha256.Sum256([]byte(secret))), "")
					return err
				})
			}
		}
	}},
	{"creation", openFlag, (*outage).emptyStore, func(r *outage) {
		s := r.serve()
		for range 4 {
			r.ticks(s, r.create(s), 1)
		}
	}},
	{"ticks", openFlag, (*outage).emptyStore, func(r *outage) {
		s := r.serve()
		r.write(s, []string{r.create(s), r.create(s)}, 40, true).Wait()
	}},
	{"bin", openFlag, (*outage).emptyStore, func(r *outage) {
		s := r.serve()
		a, b := r.create(s), r.create(s)
		r.ticks(s, a, 2)
		for _, x := range []struct{ deed, method, path string }{
			{"bin", "DELETE", a}, {"unbin", "POST", a + "/restore"}, {"bin", "DELETE", b},
			{"bin", "DELETE", a}, {"unbin", "POST", b + "/restore"},
		} {
			r.ask(&promise{deed: x.deed, session: x.path[:26]}, func(*promise) error {
				return r.api(s, x.method, "/sessions/"+x.path, nil, nil)
			})
		}
		r.ticks(s, b, 1)
	}},
	{"import", openFlag, (*outage).backedUp, func(r *outage) {
		s := r.serve()
		var export struct{ History []steps.Entry }
		data, err := text(http.DefaultClient, "GET", s.url+"/api/v1/sessions/"+r.ids[0]+"/export", "")
		if err := errors.Join(err, json.Unmarshal([]byte(data), &export)); err != nil {
			r.t.Fatal(err)
		}
		for range 3 {
			p := &promise{deed: "import", rev: 1}
			for _, e := range export.History {
				p.ops = append(p.ops, e.Op)
			}
			r.ask(p, func(p *promise) error {
				return r.api(s, "POST", "/import", json.RawMessage(data), &struct{ ID *string }{&p.session})
			})
		}
	}},
	{"photos", openFlag, (*outage).emptyStore, func(r *outage) {
		s := r.serve()
		for n := range 4 {
			photo := r.photo(s, uint8(60*n))
			r.ticks(s, r.createOn(s, strings.Replace(smallPlan, `"cut"`, `"photo": "`+photo+`", "cut"`, 1)), 1)
		}
		r.command("backup", filepath.Join("elsewhere", "photos.db"))
	}},
	{"growth", openFlag, (*outage).emptyStore, func(r *outage) {
		s := r.serve()
		id := r.create(s)
		for range 50 {
			r.do(s, id, nil, steps.Op{Kind: steps.KindNote, Step: "widths", Text: strings.Repeat("quilts ", 130)})
		}
	}},
	{"backup while serving", openFlag, (*outage).emptyStore, func(r *outage) {
		s := r.serve()
		ids := []string{r.create(s), r.create(s)}
		writers := r.write(s, ids, 25, true)
		for n := range 2 {
			r.command("backup", filepath.Join("elsewhere", fmt.Sprint(n, ".db")))
		}
		writers.Wait()
	}},
	{"restore, stopped", openFlag, (*outage).backedUp, (*outage).restore},
	{"restore, with own backups", openFlag, func(r *outage) {
		r.backedUp()
		r.copy(filepath.Join(r.root, r.backup), filepath.Join(r.data, "backups", "000001-20260101-101010.db"))
	}, (*outage).restore},
	{"restore while serving", openFlag, (*outage).backedUp, func(r *outage) {
		s := r.serve()
		writers := r.write(s, r.ids, 30, false)
		r.command("restore", r.backup)
		writers.Wait()
		r.ticks(s, r.ids[0], 1)
	}},
	{"restore into a new folder", openFlag, func(r *outage) {
		r.backedUp()
		os.RemoveAll(r.data)
		r.data = filepath.Join(r.root, "share", "cornerwise")
	}, (*outage).restore},
	{"restore over a store cut short", openFlag, func(r *outage) {
		r.backedUp()
		os.Truncate(datafolder.Store(r.data), 12000)
	}, (*outage).restore},
	{"restore over a store overwritten", openFlag, func(r *outage) {
		r.backedUp()
		overwrite(r.t, datafolder.Store(r.data), 0, 8192)
	}, (*outage).restore},
	{"migration from schema 1", openFlag, func(r *outage) { r.migrates("1.db") }, (*outage).goOn},
	{"migration from schema 2", openFlag, func(r *outage) { r.migrates("2.db") }, (*outage).goOn},
}

// A promise is what the program was asked for, and when it said that it was done.
type promise struct {
	deed            string
	asked, answered int64 // nanoseconds since 1970; answered is 0 where it was not done
	session         string
	rev             int64 // that the first of ops has
	ops             []steps.Op
	answer          string // a device's cookie, an authority
	file            string // of a backup or restore, below root
}

// An outage is a scenario as it was recorded.
type outage struct {
	t          *testing.T
	scenario   scenario
	program    string
	root, data string // data is the program's folder below root
	first      powerloss.Files
	began      *server

	mu       sync.Mutex
	promises []*promise
	n        int // of ops

	ids    []string // sessions in the backup
	backup string   // below root
}

// ask asks for something and notes what comes of it.
func (r *outage) ask(p *promise, do func(*promise) error) {
	p.asked = time.Now().UnixNano()
	err := do(p)
	r.mu.Lock()
	defer r.mu.Unlock()
	if err == nil {
		p.answered = time.Now().UnixNano()
	} else if !strings.Contains(err.Error(), "503") { // while it stands aside for a restore
		r.t.Errorf("%s: %v", p.deed, err)
	}
	r.promises = append(r.promises, p)
}

func (r *outage) serve() *server {
	r.began = startProgram(r.t, r.program, r.data, r.scenario.flags...)
	return r.began
}

func (r *outage) api(s *server, method, path string, body, into any) error {
	data, err := json.Marshal(body)
	if err != nil {
		return err
	}
	status, err := s.call(method, "/api/v1"+path, string(data), into)
	if err == nil && status >= 300 {
		err = fmt.Errorf("%s %s: got %d", method, path, status)
	}
	return err
}

// text is what a good reply says.
func text(client *http.Client, method, url, form string) (string, error) {
	req, _ := http.NewRequest(method, url, strings.NewReader(form))
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	res, err := client.Do(req)
	if err != nil {
		return "", err
	}
	defer res.Body.Close()
	var b bytes.Buffer
	if _, err := b.ReadFrom(res.Body); err != nil || res.StatusCode >= 400 {
		return "", errors.Join(err, fmt.Errorf("%s %s: got %s", method, url, res.Status))
	}
	return b.String(), nil
}

func (r *outage) create(s *server) string { return r.createOn(s, smallPlan) }

func (r *outage) createOn(s *server, plan string) string {
	p := &promise{deed: "create", rev: 1, ops: []steps.Op{{Kind: steps.KindPlan, Plan: json.RawMessage(plan)}}}
	r.ask(p, func(p *promise) error {
		return r.api(s, "POST", "/sessions", json.RawMessage(plan), &struct{ ID *string }{&p.session})
	})
	return p.session
}

// photo sends a photo of one gray, and tells its id.
func (r *outage) photo(s *server, gray uint8) string {
	picture := image.NewGray(image.Rect(0, 0, 240, 240))
	for i := range picture.Pix {
		picture.Pix[i] = gray
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, nil); err != nil {
		r.t.Fatal(err)
	}
	p := &promise{deed: "photo"}
	r.ask(p, func(p *promise) error {
		status, err := s.call("POST", "/api/v1/photos", b.String(), &struct{ ID *string }{&p.answer})
		if err == nil && status != 201 {
			err = fmt.Errorf("a photo: got %d", status)
		}
		return err
	})
	return p.answer
}

// do has an op done, by the live line where there is one.
func (r *outage) do(s *server, id string, live *websocket.Conn, op steps.Op) (taken bool) {
	r.mu.Lock()
	r.n++
	op.ID = fmt.Sprintf("%s-%d", op.Kind, r.n)
	r.mu.Unlock()
	p := &promise{deed: "op", session: id, ops: []steps.Op{op}}
	r.ask(p, func(p *promise) error {
		if live == nil {
			return r.api(s, "POST", "/sessions/"+id+"/ops", op, &struct{ Rev *int64 }{&p.rev})
		}
		if err := live.WriteJSON(op); err != nil {
			return err
		}
		for {
			var m struct {
				Ack, Nack string
				Rev       int64
			}
			if err := live.ReadJSON(&m); err != nil || m.Nack != "" {
				return fmt.Errorf("refused %s: %w", m.Nack, err)
			}
			if m.Ack == op.ID {
				p.rev = m.Rev
				return nil
			}
		}
	})
	return p.answered != 0
}

// freeTicks need no other.
var freeTicks = []string{"fabric.1.pressed", "pair.chosen", "machine.noted"}

func (r *outage) ticks(s *server, id string, n int) {
	for i := range n {
		r.do(s, id, nil, steps.Op{Kind: steps.KindTick, Tick: freeTicks[i%3], Done: new(true)})
	}
}

// write has four writers tick and note in the sessions, every other one by its live line.
func (r *outage) write(s *server, ids []string, ops int, live bool) *sync.WaitGroup {
	var writers sync.WaitGroup
	for n := range 4 {
		writers.Go(func() {
			id, done := ids[n%2], false
			var line *websocket.Conn
			if live && n/2 == 0 {
				var err error
				if line, _, err = websocket.DefaultDialer.Dial(strings.Replace(s.url, "http", "ws", 1)+"/api/v1/sessions/"+id+"/live", nil); err != nil {
					r.t.Errorf("the live line of %s: %v", id, err)
					return
				}
				defer line.Close()
			}
			for i := range ops {
				op := steps.Op{Kind: steps.KindTick, Tick: freeTicks[n/2], Done: new(!done)}
				if i%4 == 3 {
					op = steps.Op{Kind: steps.KindNote, Step: "widths", Text: strings.Repeat("quilts ", i)}
				}
				if r.do(s, id, line, op) && op.Done != nil {
					done = *op.Done
				}
			}
		})
	}
	return &writers
}

// pair lets a device in, and is its cookie.
func (r *outage) pair(s *server) string {
	p := &promise{deed: "pair"}
	r.ask(p, func(p *promise) error {
		var offer web.OfferReply
		if err := r.api(s, "POST", "/offers", map[string]bool{"looks": false}, &offer); err != nil {
			return err
		}
		req, _ := http.NewRequest("POST", s.url+"/pair", strings.NewReader(url.Values{"code": {offer.Code}}.Encode()))
		req.Host = away
		req.Header.Set("Origin", "http://"+away)
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		res, err := noFollow(nil).Do(req)
		if err != nil {
			return err
		}
		res.Body.Close()
		p.answer, _, _ = strings.Cut(res.Header.Get("Set-Cookie"), ";")
		if res.StatusCode != http.StatusSeeOther || p.answer == "" {
			return fmt.Errorf("POST /pair: got %s", res.Status)
		}
		return nil
	})
	return p.answer
}

// away is an address by which nobody is the owner.
const away = "192.168.7.2:8370"

// command runs a command on the data and a file below root.
func (r *outage) command(deed, file string) {
	r.ask(&promise{deed: deed, file: file}, func(*promise) error {
		out, err := exec.Command(r.program, deed, "--data", r.data, filepath.Join(r.root, file)).CombinedOutput()
		if err != nil {
			err = fmt.Errorf("%w: %s", err, out)
		}
		return err
	})
}

func (r *outage) emptyStore() { r.used(func(*server) {}) }

// used has the program serve and stop.
func (r *outage) used(by func(*server)) {
	s := startProgram(r.t, r.program, r.data, openFlag...)
	by(s)
	s.stop(syscall.SIGTERM)
}

// backedUp has sessions, a backup of them elsewhere, and ops that it has not.
func (r *outage) backedUp() {
	r.backup = filepath.Join("elsewhere", "b.db")
	r.used(func(s *server) {
		r.ids = []string{r.create(s), r.create(s)}
		r.ticks(s, r.ids[0], 3)
	})
	r.command("backup", r.backup)
	r.used(func(s *server) {
		r.ticks(s, r.ids[1], 3)
		r.create(s)
	})
}

func (r *outage) restore() {
	r.command("restore", r.backup)
	r.ticks(r.serve(), r.ids[0], 2)
}

func (r *outage) migrates(store string) {
	r.copy(filepath.Join("..", "..", "testdata", "stores", store), datafolder.Store(r.data))
}

func (r *outage) copy(from, to string) {
	data, err := os.ReadFile(from)
	if err := errors.Join(err, os.MkdirAll(filepath.Dir(to), 0o700), os.WriteFile(to, data, 0o600)); err != nil {
		r.t.Fatal(err)
	}
}

// goOn works on with what there is.
func (r *outage) goOn() {
	s := r.serve()
	r.ticks(s, r.create(s), 2)
}

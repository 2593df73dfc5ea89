//go:build linux

package main

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"sync"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/powerloss"
	"cornerwise/session"
	"cornerwise/steps"
)

// stored are sessions as a store or a server has them.
type stored struct {
	histories map[string][]steps.Entry
	binned    map[string]bool
	version   int   // of the schema that the file has
	err       error // why it can't be used
}

func newStored() *stored {
	return &stored{histories: map[string][]steps.Entry{}, binned: map[string]bool{}}
}

// has tells whether an op has its revision in its session. One without id may have any.
func (k *stored) has(w wanted) bool {
	history, op := k.histories[w.session], w.op
	if w.rev < 1 || int64(len(history)) < w.rev {
		return false
	}
	got := history[w.rev-1].Op
	if op.ID == "" {
		got.ID = ""
	}
	if op.Number == "" {
		got.Number = "" // it is kept with the tick
	}
	if op.Plan != nil {
		op.Plan, _ = json.Marshal(op.Plan)
	}
	return reflect.DeepEqual(got, op)
}

// A wanted op is one that must be there.
type wanted struct {
	session         string
	rev             int64
	op              steps.Op
	asked, answered int64
}

// missing are those that a store has not.
func (k *stored) missing(all []wanted) (list []wanted) {
	for _, w := range all {
		if !k.has(w) {
			list = append(list, w)
		}
	}
	return list
}

func (k *stored) wanted() (list []wanted) {
	for id, history := range k.histories {
		for _, e := range history {
			list = append(list, wanted{session: id, rev: e.Rev, op: e.Op})
		}
	}
	return list
}

// A reading is what the program makes of a state.
type reading struct {
	started   bool
	said      string
	given     *stored
	wrong     []string       // answers that are wrong in themselves
	devices   map[string]int // what each is answered, by its cookie
	photos    map[string]int // what each is answered, by its id
	authority string
	stores    map[string]*stored // backups and what was set aside, by their paths below root
	before    *stored            // the store before the program started
	helped    *reading           // after the command that it named
	files     powerloss.Files
}

// A judge reads the states that an outage leaves, and holds them against its promises.
type judge struct {
	*outage
	below string          // the data folder, from root
	was   *stored         // at the start
	taken *stored         // the backup that is restored
	known map[string]bool // sessions and ops that were asked for
	mu    sync.Mutex
	read  map[[32]byte]*stored
}

func newJudge(r *outage) *judge {
	j := &judge{outage: r, known: map[string]bool{}, read: map[[32]byte]*stored{}, was: newStored(), taken: newStored()}
	j.below, _ = filepath.Rel(r.root, r.data)
	if data := r.first[datafolder.Store(j.below)]; data != nil {
		j.was = j.store(data)
	}
	if r.backup != "" {
		j.taken = j.store(r.first[r.backup])
	}
	for _, w := range append(j.was.wanted(), j.taken.wanted()...) {
		j.known[w.session], j.known[w.op.ID] = true, true
	}
	for _, p := range r.promises {
		j.known[p.session] = true
		for _, op := range p.ops {
			j.known[op.ID] = true
		}
	}
	return j
}

// store is what a file holds, read by this program from a copy.
func (j *judge) store(data []byte) *stored {
	key := sha256.Sum256(data)
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.read[key] == nil {
		j.read[key] = readStore(filepath.Join(j.t.TempDir(), datafolder.StoreFile), data)
	}
	return j.read[key]
}

func readStore(path string, data []byte) *stored {
	k := newStored()
	if k.err = os.WriteFile(path, data, 0o600); k.err != nil {
		return k
	}
	var report session.Report
	if report, k.err = session.CheckFile(path); k.err != nil {
		return k
	}
	k.version = report.Version
	var s *session.Store
	if s, k.err = session.Open(path, time.Now); k.err != nil {
		return k
	}
	defer s.Close()
	for _, binned := range []bool{true, false} {
		heads, _, err := s.List(1000, "", binned)
		k.err = errors.Join(k.err, err)
		for _, h := range heads {
			if binned {
				k.binned[h.ID] = true
				k.err = errors.Join(k.err, s.Unbin(context.Background(), h.ID))
			}
			k.histories[h.ID], err = s.History(h.ID)
			k.err = errors.Join(k.err, err)
		}
	}
	return k
}

// look lays a state out in a folder, and starts the program on it.
func (j *judge) look(files powerloss.Files, root string) *reading {
	if err := files.Write(root); err != nil {
		j.t.Error(err)
	}
	data := filepath.Join(root, j.below)
	stores, store, before := map[string]*stored{}, datafolder.Store(j.below), newStored()
	for name, content := range files {
		switch backup, aside := strings.HasSuffix(name, ".db"), strings.Contains(name, ".db.set-aside-"); {
		case name == store:
			before = j.store(content)
		case (backup || aside) && len(content) > 0:
			stores[name] = j.store(content)
		}
	}
	r := j.serves(data)
	r.stores, r.before, r.files = stores, before, files
	if r.started {
		return r
	}
	var help *exec.Cmd
	if found := offered.FindStringSubmatch(strings.TrimSpace(r.said)); found != nil {
		help = exec.Command("sh", "-c", j.program+" "+found[1])
	} else if j.was.err != nil {
		help = exec.Command(j.program, "restore", "--data", data, filepath.Join(root, j.backup))
	}
	if help != nil {
		out, err := help.CombinedOutput()
		r.helped = j.serves(data)
		if err != nil {
			r.said += fmt.Sprintf("\nand the command that it names: %v: %s", err, out)
		}
	}
	return r
}

// serves has the program serve a folder, and reads all that it gives out.
func (j *judge) serves(data string) *reading {
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	s := launch(ctx, j.t, j.program, data, j.scenario.flags...)
	r := &reading{started: s.url != "", given: newStored(), devices: map[string]int{}, photos: map[string]int{}}
	if r.started {
		j.readAll(s, r)
		s.cmd.Process.Kill()
		s.cmd.Wait()
	}
	if r.said = s.stderr.String(); ctx.Err() != nil {
		r.wrong = append(r.wrong, "it did not answer in time")
	}
	if r.started {
		if out, err := exec.Command(j.program, "check", "--data", data).CombinedOutput(); err != nil || strings.Contains(string(out), "are damaged") {
			r.wrong = append(r.wrong, fmt.Sprintf("check says %v: %s", err, out))
		}
	}
	return r
}

var photoInPlan = regexp.MustCompile(`"photo":\s*"([^"]+)"`)

func (j *judge) readAll(s *server, r *reading) {
	must := func(what string, err error) {
		if err != nil {
			r.wrong = append(r.wrong, fmt.Sprintf("%s: %v", what, err))
		}
	}
	var list struct{ Sessions []session.Head }
	must("the list", j.api(s, "GET", "/sessions?limit=200", nil, &list))
	ids := map[string]int64{} // with the revision that the list says
	for _, h := range list.Sessions {
		ids[h.ID] = h.Rev
	}
	for _, p := range j.promises {
		ids[p.session] += 0
	}
	for id := range j.was.histories {
		ids[id] += 0
	}
	delete(ids, "")
	for id, rev := range ids {
		var got struct {
			History []steps.Entry
			Error   struct{ Code string }
		}
		status, err := s.call("GET", "/api/v1/sessions/"+id+"/history", "", &got)
		if r.given.binned[id] = got.Error.Code == "binned"; r.given.binned[id] {
			must("out of the bin", j.api(s, "POST", "/sessions/"+id+"/restore", nil, nil))
			must("what was in the bin", j.api(s, "GET", "/sessions/"+id+"/history", nil, &got))
		} else if err != nil || status != 200 && got.Error.Code != "not-found" {
			must("history", fmt.Errorf("%d %w %s", status, err, got.Error.Code))
		}
		if rev != 0 && rev != int64(len(got.History)) {
			must("the list", fmt.Errorf("%s has revision %d, and %d ops", id, rev, len(got.History)))
		}
		if len(got.History) > 0 {
			r.given.histories[id] = got.History
		}
		for _, e := range got.History {
			for _, named := range photoInPlan.FindAllSubmatch(e.Plan, -1) {
				if status, _ := s.call("GET", "/api/v1/photos/"+string(named[1]), "", nil); status != 200 {
					r.wrong = append(r.wrong, fmt.Sprintf("session %s names a photo that is answered %d", id, status))
				}
			}
		}
	}
	for _, p := range j.promises {
		switch p.deed {
		case "pair":
			req, _ := http.NewRequest("GET", s.url+"/api/v1/sessions", nil)
			req.Host = away
			req.Header.Set("Cookie", p.answer)
			res, err := noFollow(nil).Do(req)
			if must("a device", err); err == nil {
				res.Body.Close()
				r.devices[p.answer] = res.StatusCode
			}
		case "photo":
			r.photos[p.answer], _ = s.call("GET", "/api/v1/photos/"+p.answer, "", nil)
		case "trust":
			var err error
			r.authority, err = text(http.DefaultClient, "GET", s.url+"/authority.crt", "")
			must("the authority", err)
		}
	}
	var made struct{ ID string }
	must("a new session", j.api(s, "POST", "/sessions", json.RawMessage(smallPlan), &made))
	op := steps.Op{ID: "new", Kind: steps.KindTick, Tick: freeTicks[0], Done: new(true)}
	must("a new op", j.api(s, "POST", "/sessions/"+made.ID+"/ops", op, nil))
}

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
	"slices"
	"strings"
	"sync"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/powerloss"
	"cornerwise/session"
	"cornerwise/steps"
)

// kept are sessions as a store or a server has them.
type kept struct {
	histories map[string][]steps.Entry
	binned    map[string]bool
	version   int   // of the schema that the file has
	err       error // why it can't be used
}

func newKept() *kept { return &kept{histories: map[string][]steps.Entry{}, binned: map[string]bool{}} }

// has tells whether an op has its revision in a session. One without id may have any.
func (k *kept) has(id string, rev int64, op steps.Op) bool {
	history := k.histories[id]
	if rev < 1 || int64(len(history)) < rev || history[rev-1].Rev != rev {
		return false
	}
	got := history[rev-1].Op
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
	session     string
	rev         int64
	op          steps.Op
	asked, kept int64
}

// missing are those that a store has not.
func (k *kept) missing(all []wanted) (list []wanted) {
	for _, w := range all {
		if k == nil || !k.has(w.session, w.rev, w.op) {
			list = append(list, w)
		}
	}
	return list
}

func (k *kept) wanted() (list []wanted) {
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
	kept      *kept
	wrong     []string         // answers that are wrong in themselves
	devices   map[string]int   // what each is answered, by its cookie
	authority string           //
	stores    map[string]*kept // backups and what was set aside, by their paths below root
	before    *kept            // the store before the program started, nil for none
	helped    *reading         // after the command that it named
	files     powerloss.Files  //
}

// A judge reads the states of a run and holds them against its promises.
type judge struct {
	*outage
	below string          // root to the data folder
	was   *kept           // at the start
	taken *kept           // the backup that is restored
	known map[string]bool // sessions and ops that were asked for
	mu    sync.Mutex
	read  map[[32]byte]*kept
}

func newJudge(r *outage) *judge {
	j := &judge{outage: r, known: map[string]bool{}, read: map[[32]byte]*kept{}, was: newKept(), taken: newKept()}
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
func (j *judge) store(data []byte) *kept {
	key := sha256.Sum256(data)
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.read[key] == nil {
		j.read[key] = readStore(filepath.Join(j.t.TempDir(), datafolder.StoreFile), data)
	}
	return j.read[key]
}

func readStore(path string, data []byte) *kept {
	k := newKept()
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
	stores, store := map[string]*kept{}, datafolder.Store(j.below)
	var before *kept
	for name, content := range files {
		inBackups, aside := strings.HasSuffix(name, ".db"), strings.Contains(name, ".db.set-aside-")
		if name == store {
			before = j.store(content)
		} else if (inBackups || aside) && len(content) > 0 {
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
	r := &reading{started: s.url != "", kept: newKept(), devices: map[string]int{}}
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
		if r.kept.binned[id] = got.Error.Code == "binned"; r.kept.binned[id] {
			must("out of the bin", j.api(s, "POST", "/sessions/"+id+"/restore", nil, nil))
			must("what was in the bin", j.api(s, "GET", "/sessions/"+id+"/history", nil, &got))
		} else if err != nil || status != 200 && got.Error.Code != "not-found" {
			must("history", fmt.Errorf("%d %w %s", status, err, got.Error.Code))
		}
		if rev != 0 && rev != int64(len(got.History)) {
			must("the list", fmt.Errorf("%s has revision %d, and %d ops", id, rev, len(got.History)))
		}
		if len(got.History) > 0 {
			r.kept.histories[id] = got.History
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

// findings are what is wrong with a state when the power goes at a moment.
func (j *judge) findings(m powerloss.Moment, r *reading) (list []string) {
	add := func(format string, a ...any) { list = append(list, fmt.Sprintf(format, a...)) }
	kept := func(p *promise) bool { return p.kept != 0 && p.kept < m.At }
	last := map[string]*promise{} // of each deed that was asked for by then
	creating := 0
	var want []wanted
	for _, p := range j.promises {
		if p.asked >= m.At {
			continue
		}
		last[p.deed] = p
		if !kept(p) && (p.deed == "create" || p.deed == "import") {
			creating++
		}
		for i, op := range p.ops {
			if kept(p) {
				want = append(want, wanted{p.session, p.rev + int64(i), op, p.asked, p.kept})
			}
		}
	}
	want = append(want, j.was.wanted()...)
	restore := last["restore"]
	done := restore != nil && kept(restore)
	if words, _, dies := strings.Cut(r.said, "\ngoroutine "); dies {
		add("it dies: %.500s", words)
		return list
	}
	now := r.kept
	if !r.started {
		if r.helped == nil || !r.helped.started || done && j.was.err != nil {
			add("it does not start: %.500s", r.said)
			return list
		}
		now = r.helped.kept
		if lost := now.missing(append(want, j.taken.wanted()...)); len(lost) > 0 {
			add("it does not start, and by the command that it names %d ops do not come back, such as %s: %.500s", len(lost), lost[0].op.ID, r.said)
		}
		return list
	}
	for _, wrong := range r.wrong {
		add("%s", wrong)
	}
	for _, w := range now.missing(want) {
		aside := restore != nil && (!done || w.asked < restore.kept) && slices.ContainsFunc(r.names(".db.set-aside-"), func(name string) bool {
			return r.stores[name].has(w.session, w.rev, w.op)
		})
		if !aside {
			add("op %q, rev %d of session %s, was answered and is gone", w.op.ID, w.rev, w.session)
			break
		}
	}
	if done {
		for _, w := range now.missing(j.taken.wanted()) {
			add("op %q of the backup was restored and is gone", w.op.ID)
			break
		}
	}
	j.findStrange(now, creating, add)
	j.findStores(m, r, want, kept, add)
	for _, p := range j.promises {
		switch after := j.lastOf(p, m); {
		case after != p || !kept(p):
		case p.deed == "bin" || p.deed == "unbin":
			if is := now.binned[p.session]; is != (p.deed == "bin") {
				add("the last that was answered is %s, and in the bin: %v", p.deed, is)
			}
		case p.deed == "pair" && r.devices[p.answer] != 200:
			add("a device that was let in is answered %d", r.devices[p.answer])
		case p.deed == "forget" && r.devices[p.answer] != 401:
			add("a device that was forgotten is answered %d", r.devices[p.answer])
		case p.deed == "trust" && r.authority != p.answer:
			add("it is another than the one that devices trust")
		}
	}
	return list
}

// lastOf is the last promise about what p is about that was asked for by a moment.
func (j *judge) lastOf(p *promise, m powerloss.Moment) (last *promise) {
	for _, other := range j.promises {
		if other.session == p.session && other.answer == p.answer && (len(other.ops) > 0) == (len(p.ops) > 0) && other.asked < m.At {
			last = other
		}
	}
	return last
}

// findStrange finds what nobody asked for.
func (j *judge) findStrange(now *kept, creating int, add func(format string, a ...any)) {
	for id, history := range now.histories {
		if !j.known[id] {
			creating-- // its answer had not come
		}
		seen := map[string]bool{}
		for i, e := range history {
			if seen[e.ID] || e.Rev != int64(i+1) {
				add("op %q of session %s is there twice or out of order", e.ID, id)
			}
			if i > 0 && !j.known[e.ID] {
				add("nobody asked for op %q of session %s", e.ID, id)
			}
			seen[e.ID] = true
		}
	}
	if creating < 0 {
		add("there are %d sessions that nobody asked for", -creating)
	}
}

// findStores finds what is wrong with backups and with what was set aside.
func (j *judge) findStores(m powerloss.Moment, r *reading, want []wanted, kept func(*promise) bool, add func(format string, a ...any)) {
	damaged := string(j.first[datafolder.Store(j.below)])
	for name, k := range r.stores {
		if k.err != nil && (j.was.err == nil || string(r.files[name]) != damaged) {
			add("%s can't be used: %v", name, k.err)
		}
	}
	if j.was.err != nil && string(r.files[datafolder.Store(j.below)]) != damaged && !slices.ContainsFunc(r.names(".db.set-aside-"), func(name string) bool { return string(r.files[name]) == damaged }) {
		add("the damaged store is neither in its place nor set aside")
	}
	own := r.names(filepath.Join(j.below, "backups"))
	if v := j.was.version; v != 0 && r.before != nil && r.before.version != v && !slices.ContainsFunc(own, func(name string) bool { return r.stores[name].version == v }) {
		add("the store was migrated from schema %d, and no backup of it is there", v)
	}
	for _, p := range j.promises {
		if p.deed != "backup" || !kept(p) {
			continue
		}
		held := slices.DeleteFunc(slices.Clone(want), func(w wanted) bool { return w.kept >= p.asked })
		k := r.stores[p.file]
		if k == nil {
			add("%s was made and is gone", p.file)
		} else if lost := k.missing(held); k.err == nil && len(lost) > 0 {
			add("%s lacks %d ops that were answered before it was asked for", p.file, len(lost))
		}
		if !slices.ContainsFunc(own, func(name string) bool { return len(r.stores[name].missing(held)) == 0 }) {
			add("no own backup has what was answered before %s was asked for", p.file)
		}
	}
}

// names are the backups and stores set aside whose paths hold a word.
func (r *reading) names(word string) (list []string) {
	for name := range r.stores {
		if strings.Contains(name, word) {
			list = append(list, name)
		}
	}
	return list
}

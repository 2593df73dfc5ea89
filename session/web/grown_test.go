package web_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"net/http/httptest"
	"net/url"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"cornerwise/session"
	"cornerwise/steps"
)

// What is sent may be wrong by its size as well as by its shape. Here something valid is made
// larger at one place, by one way, up to its limit and beyond it.

// fillers are what texts are made long with: plain, blank, what JSON or HTML writes longer
// than it is, and what is longer in bytes than in characters.
var fillers = []string{"x", " ", "\n", `"`, "<", "\x00", "9", "/", "½", "\U0001F9F5", "e\u0301", "\xff"}

// ways are how a value at a place grows; each gives its JSON.
var ways = []struct {
	name string
	grow func(value any, filler string, size int) string
}{
	{"longer", func(value any, filler string, size int) string {
		return written(fmt.Sprint(value) + strings.Repeat(filler, size))
	}},
	{"another text", func(_ any, filler string, size int) string { return written(strings.Repeat(filler, size)) }},
	{"raw", func(_ any, filler string, size int) string { return `"` + strings.Repeat(filler, size) + `"` }},
	{"blanks around", func(value any, _ string, size int) string {
		blanks := strings.Repeat(" ", size/2)
		return blanks + written(value) + blanks
	}},
	{"a list", func(value any, _ string, size int) string {
		return "[" + strings.TrimSuffix(strings.Repeat(written(value)+",", size), ",") + "]"
	}},
	{"lists in lists", func(value any, _ string, size int) string {
		return strings.Repeat("[", size) + written(value) + strings.Repeat("]", size)
	}},
	{"objects in objects", func(value any, _ string, size int) string {
		return strings.Repeat(`{"a":`, size) + written(value) + strings.Repeat("}", size)
	}},
	{"a number", func(_ any, _ string, size int) string { return "1" + strings.Repeat("0", size) }},
	{"a fraction", func(_ any, _ string, size int) string { return "0." + strings.Repeat("0", size) + "1" }},
	{"an exponent", func(_ any, _ string, size int) string { return "1e" + strconv.Itoa(size) }},
	{"more fields", func(value any, filler string, size int) string {
		var b strings.Builder
		b.WriteString("{")
		for n := range size {
			fmt.Fprintf(&b, `"%d": "", `, n)
		}
		return b.String() + `"a": ` + written(value) + "}"
	}},
	{"the field again and again", func(value any, filler string, size int) string {
		again := strings.Repeat(written(value)+`,"`+placeKey+`":`, size)
		return again + written(value)
	}},
	{"a longer name", nil}, // grown does that
}

// written is a value as JSON, no longer than it must be.
func written(value any) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(value); err != nil {
		panic(err)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// A place is a value in JSON, under a key or in a list.
type place struct {
	key   string // "" in a list
	value any
	put   func(value any)
	name  func(key string) // gives it another key
}

// places are all of a value, in order.
func places(value any) (all []place) {
	switch v := value.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(v)) {
			all = append(all, place{key, v[key], func(value any) { v[key] = value }, func(other string) {
				value := v[key]
				delete(v, key)
				v[other] = value
			}})
			all = append(all, places(v[key])...)
		}
	case []any:
		for i := range v {
			all = append(all, place{"", v[i], func(value any) { v[i] = value }, nil})
			all = append(all, places(v[i])...)
		}
	}
	return all
}

const (
	placeMark = "the place"
	placeKey  = "its key"
)

// grown is a JSON object that has grown at the nth of its places, and what was there.
func grown(valid string, n, way int, filler string, size int) (text, key, how string) {
	var value any
	if err := json.Unmarshal([]byte(valid), &value); err != nil {
		panic(err)
	}
	all := places(value)
	p := all[n%len(all)]
	w := ways[way%len(ways)]
	if w.grow == nil {
		if p.name != nil {
			p.name(p.key + strings.Repeat(filler, size))
		}
		return written(value), p.key, w.name
	}
	p.put(placeMark)
	text = strings.Replace(written(value), `"`+placeMark+`"`, w.grow(p.value, filler, size), 1)
	return strings.ReplaceAll(text, placeKey, p.key), p.key, w.name
}

// A judge holds what a request is answered to what any may be.
type sizeJudge struct {
	*house
	ask func(method, path, kind, body string) *httptest.ResponseRecorder
}

func newSizeJudge(t testing.TB) *sizeJudge {
	j := &sizeJudge{house: openHouse(t)}
	handler := j.web.Handler()
	j.ask = func(method, path, kind, body string) *httptest.ResponseRecorder {
		req := httptest.NewRequest(method, path, strings.NewReader(body))
		req.RemoteAddr, req.Host = "127.0.0.1:50000", "localhost"
		req.Header.Set("Content-Type", kind)
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, req)
		return w
	}
	return j
}

var figure = regexp.MustCompile(`\d`)

// answered fails where a request is answered as a fault, with no sentence, with one that grows
// with what was sent, or where it took much more memory than it brought.
func (j *sizeJudge) answered(t *testing.T, what, method, path, kind, body string, allowed int) *httptest.ResponseRecorder {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	w := j.ask(method, path, kind, body)
	runtime.ReadMemStats(&after)
	if took, most := int(after.TotalAlloc-before.TotalAlloc), allowed+60*min(len(body), 16<<20); took > most {
		t.Errorf("%s: %d bytes took %d of memory, want at most %d", what, len(body), took, most)
	}
	if w.Code >= 500 {
		t.Errorf("%s: got %d %.300s", what, w.Code, w.Body)
	}
	if w.Code < 400 {
		return w
	}
	if kind != "application/json" {
		return w
	}
	var p problemJSON
	if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || !sentence(p.Error.Message) || w.Body.Len() > 16<<10 || len(p.Error.Message) > 1000 {
		t.Errorf("%s: got %d and %d bytes, %.1000s; want a sentence, no longer for what was sent", what, w.Code, w.Body.Len(), w.Body)
	}
	if w.Code == 413 && !figure.MatchString(p.Error.Message) {
		t.Errorf("%s: got %s, want the limit", what, w.Body)
	}
	return w
}

// kept is the last op of a session, which must be no larger than an op may be, and what is
// exported is taken back.
func (j *sizeJudge) kept(t *testing.T, what, id string) {
	t.Helper()
	entries, err := j.store.History(id)
	if err != nil {
		t.Fatal(err)
	}
	last, err := json.Marshal(entries[len(entries)-1])
	if err != nil || len(last) > steps.MaxOp {
		t.Errorf("%s: the op that is kept has %d bytes, want at most %d", what, len(last), steps.MaxOp)
	}
	data, err := j.store.Export(id)
	if err == nil {
		_, err = j.store.Import(t.Context(), bytes.NewReader(data))
	}
	if err != nil {
		t.Errorf("%s: what was taken and exported is not taken back: %v", what, err)
	}
}

// sizes are about every limit there is.
var sizes = []uint32{0, 1, 12, 13, 20, 21, 39, 40, 41, 80, 100, 101, 200, 201, 400, 401, 1000, 1001, 10000, 60000, 64 << 10, 70000, 300000}

// validOps are one of each kind, with every field that it may have.
var validOps = []string{
	`{"op": "a", "kind": "plan", "plan": {"title": "Harbour", "unit": "in", "seam": "1/4", "spare": "4", "center": {"width": "36 1/2", "length": "48 1/2"}, "coping": {"edges": "sides", "cut": null},
		"limits": {"apart": "1/8", "mend": "1/2", "diagonals": "1/4", "seen": "1/16"}, "borders": [{"name": "ticking", "cut": "5 1/2", "cutTopBottom": "6", "start": "1/8", "motif": "6", "lengths": "least",
		"lines": [{"name": "navy", "width": "3/4", "color": "#1f3a5f"}], "fabric": {"name": "indigo", "usableWidth": "42", "runs": "lengthwise", "join": "diagonal", "even": "2", "shrink": "3"}}]}}`,
	`{"op": "a", "kind": "tick", "tick": "center.pressed", "done": true, "why": "so be it", "number": "1/4 in"}`,
	`{"op": "a", "kind": "measure", "measure": "width-top", "value": "36 1/2"}`,
	`{"op": "a", "kind": "here", "step": "widths"}`,
	`{"op": "a", "kind": "note", "step": "widths", "text": "thread 50"}`,
	`{"op": "a", "kind": "redo", "tick": "center.pressed", "why": "unpicked"}`,
	`{"op": "a", "kind": "seen", "step": "widths"}`,
	`{"op": "a", "kind": "mend", "wrong": "short-strip", "way": "joined", "border": 1, "edge": "top", "edges": "sides", "corner": 1, "values": {"length": "50", "width": "5"}}`,
	`{"op": "a", "kind": "undo", "of": "b"}`,
}

// FuzzOpBySize sends ops that have grown, as the API takes them.
func FuzzOpBySize(f *testing.F) {
	for kind := range validOps {
		for way := range ways {
			f.Add(uint8(kind), uint8(kind+way), uint8(way), uint8(kind+way), sizes[(kind*7+way*3)%len(sizes)])
		}
	}
	j := newSizeJudge(f)
	f.Fuzz(func(t *testing.T, kind, n, way, filler uint8, size uint32) {
		j.t = t
		id := j.begin()
		op, key, how := grown(validOps[int(kind)%len(validOps)], int(n), int(way), fillers[int(filler)%len(fillers)], int(size%(1<<20)))
		what := fmt.Sprintf("%s of %.60s… %s by %d of %q", key, op, how, size%(1<<20), fillers[int(filler)%len(fillers)])
		w := j.answered(t, what, "POST", at(id, "ops"), "application/json", op, 32<<20)
		if w.Code == 200 {
			j.kept(t, what, id)
		}
		if len(op) > steps.MaxOp && w.Code != 413 {
			t.Errorf("%s, %d bytes: got %d, want 413", what, len(op), w.Code)
		}
		isText := !slices.Contains([]string{"kind", "done", "border", "corner", "values"}, key)
		if how == "longer" && isText && size%(1<<20) > 1000 && w.Code == 422 && int(kind)%len(validOps) != 0 && !figure.MatchString(w.Body.String()) {
			t.Errorf("%s: got %s, want the limit", what, w.Body)
		}
		if int(kind)%len(validOps) > 0 {
			return
		}
		// The same plan begins a session.
		var begun struct{ Plan json.RawMessage }
		if json.Unmarshal([]byte(op), &begun) == nil && begun.Plan != nil {
			w := j.answered(t, "begin: "+what, "POST", "/api/v1/sessions", "application/json", string(begun.Plan), 32<<20)
			var made struct{ ID string }
			if json.Unmarshal(w.Body.Bytes(), &made); w.Code == 201 {
				j.kept(t, "begin: "+what, made.ID)
			}
		}
	})
}

// FuzzImportBySize sends files that have grown.
func FuzzImportBySize(f *testing.F) {
	j := newSizeJudge(f)
	id := j.begin()
	for n, op := range validOps {
		j.ask("POST", at(id, "ops"), "application/json", strings.Replace(op, `"a"`, `"`+strconv.Itoa(n)+`"`, 1))
	}
	data, err := j.store.Export(id)
	if err != nil {
		f.Fatal(err)
	}
	for n := range 60 {
		for way := n % 5; way < len(ways); way += 5 {
			f.Add(uint8(n), uint8(way), uint8(n+way), sizes[(n*5+way*3)%len(sizes)])
		}
	}
	f.Fuzz(func(t *testing.T, n, way, filler uint8, size uint32) {
		file, key, how := grown(string(data), int(n), int(way), fillers[int(filler)%len(fillers)], int(size%(2<<20)))
		what := fmt.Sprintf("%s of an export, place %d, %s by %d of %q", key, n, how, size%(2<<20), fillers[int(filler)%len(fillers)])
		w := j.answered(t, what, "POST", "/api/v1/import", "application/json", file, 64<<20)
		var made session.Head
		if json.Unmarshal(w.Body.Bytes(), &made); w.Code == 201 {
			j.kept(t, what, made.ID)
		}
	})
}

// validForms are by their addresses; {id} is a session.
var validForms = []struct {
	path string
	sent string
}{
	{"/new/preview", "title=a&unit=in&seam=1/4&spare=4&center.width=36&center.length=48&coping.edges=sides&coping.cut=&limits.apart=1/8&wanted.bed=queen&wanted.width=90&wanted.length=100&borders[0].name=a&borders[0].cut=5&borders[0].cutTopBottom=6&borders[0].start=1/8&borders[0].motif=6&borders[0].lengths=least&borders[0].lines[0].name=n&borders[0].lines[0].width=3/4&borders[0].lines[0].color=%23123456&borders[0].fabric.name=f&borders[0].fabric.usableWidth=42&borders[0].hand.width=42&borders[0].hand.length=90"},
	{"/new", "of={id}&op=o&center.width=36&center.length=48&borders[0].cut=5"},
	{"/new/edit", "do=more&center.width=36&center.length=48&borders[0].cut=5"},
	{"/s/{id}/do", "op=o&kind=note&step=widths&text=a"},
	{"/s/{id}/do", "op=o&kind=measure&measure=width-top&value=36"},
	{"/s/{id}/do", "op=o&kind=tick&tick=center.pressed&done=true&number=a"},
	{"/s/{id}/mend", "op=o&wrong=short-strip&way=joined&border=1&edge=top&values.length=50"},
	{"/pair", "code=12345678&name=a&token=b"},
}

// FuzzFormBySize sends forms that have grown: a value, a name, or their number.
func FuzzFormBySize(f *testing.F) {
	for form := range validForms {
		for way := range 4 {
			f.Add(uint8(form), uint8(form+way), uint8(way), uint8(form+way), sizes[(form*7+way*3)%len(sizes)])
		}
	}
	j := newSizeJudge(f)
	f.Fuzz(func(t *testing.T, form, n, way, filler uint8, size uint32) {
		j.t = t
		id := j.begin()
		x := validForms[int(form)%len(validForms)]
		sent, err := url.ParseQuery(strings.ReplaceAll(x.sent, "{id}", id))
		if err != nil {
			t.Fatal(err)
		}
		names := slices.Sorted(maps.Keys(sent))
		name := names[int(n)%len(names)]
		with, much := fillers[int(filler)%len(fillers)], int(size%(1<<19))
		switch way % 4 {
		case 0:
			sent.Set(name, sent.Get(name)+strings.Repeat(with, much))
		case 1:
			sent.Set(name+strings.Repeat(with, much), sent.Get(name))
		case 2:
			for range much {
				sent.Add(name, with)
			}
		case 3:
			for i := range much {
				sent.Set(strings.ReplaceAll(name, "0", strconv.Itoa(i))+strings.Repeat("a", i%3), "1")
			}
		}
		path := strings.ReplaceAll(x.path, "{id}", id)
		what := fmt.Sprintf("%s of the form %s, way %d by %d of %q", name, x.path, way%4, much, with)
		body := sent.Encode()
		w := j.answered(t, what, "POST", path, "application/x-www-form-urlencoded", body, 64<<20)
		if len(body) > 256<<10 && w.Code != 413 {
			t.Errorf("%s, %d bytes: got %d, want 413", what, len(body), w.Code)
		}
		if w.Body.Len() > 2<<20 {
			t.Errorf("%s: got %d bytes, want no more than a page has", what, w.Body.Len())
		}
		if w.Code == 303 && strings.Contains(x.path, "{id}") {
			j.kept(t, what, id)
		}
	})
}

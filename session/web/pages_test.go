package web_test

import (
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"cornerwise/session/web"
	"cornerwise/static"
	"cornerwise/steps"
)

// post sends a form and does not follow where it leads.
func (h *house) post(path string, form url.Values) response {
	h.t.Helper()
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := client.PostForm(h.url+path, form)
	if err != nil {
		h.t.Fatal(err)
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if err != nil {
		h.t.Fatal(err)
	}
	return response{res.StatusCode, res.Header, data}
}

// page is a page that has to come with the status.
func (h *house) page(status int, path string) string {
	h.t.Helper()
	a := h.call(http.MethodGet, path, "")
	if a.status != status || !strings.HasPrefix(a.header.Get("Content-Type"), "text/html") {
		h.t.Fatalf("GET %s: got %d %s, want a page with %d", path, a.status, a.header.Get("Content-Type"), status)
	}
	return string(a.body)
}

func (h *house) made(plan string) string {
	h.t.Helper()
	var p struct{ ID string }
	h.must(http.StatusCreated, http.MethodPost, "/api/v1/sessions", plan, &p)
	return p.ID
}

var space = regexp.MustCompile(`\s+`)

// wants looks for parts of a page, in which a line break is a blank.
func wants(t *testing.T, what, page string, parts ...string) {
	t.Helper()
	page = space.ReplaceAllString(page, " ")
	for _, part := range parts {
		if !strings.Contains(page, space.ReplaceAllString(part, " ")) {
			t.Errorf("%s: %q is not in it", what, part)
		}
	}
}

func planOf(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "plans", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestHomeShowsTheLastOneFirst(t *testing.T) {
	h := openHouse(t)
	wants(t, "home without sessions", h.page(200, "/"), `href="/new"`, `action="/demo"`, "No quilt here yet")
	older, newer := h.made(strings.Replace(web.DemoPlan, "Harbour lanterns", "Older", 1)), h.made(web.DemoPlan)
	page := h.page(200, "/")
	wants(t, "home", page, "Begin", "Harbour lanterns", "Square up · ", "today ")
	if strings.Index(page, newer) > strings.Index(page, older) {
		t.Error("home: the older session stands first")
	}
	a := h.post("/s/"+newer+"/bin", nil)
	if a.status != 303 || a.header.Get("Location") != "/?binned="+newer {
		t.Fatalf("POST bin: got %d to %q, want 303 home", a.status, a.header.Get("Location"))
	}
	wants(t, "home after a bin", h.page(200, "/?binned="+newer), "is in the bin", `action="/s/`+newer+`/restore"`, "In the bin: 1")
	h.page(404, "/s/"+newer)
	if a = h.post("/s/"+newer+"/restore", nil); a.status != 303 {
		t.Errorf("POST restore: got %d, want 303", a.status)
	}
	h.page(200, "/s/"+newer)
}

func TestThePlanFormKeepsWhatWasTyped(t *testing.T) {
	h := openHouse(t)
	wants(t, "the form", h.page(200, "/new"), `name="borders[0].cut"`, `name="seam" value=""`, `name="spare" value=""`)

	typed := url.Values{"title": {`<b>"Reeds"</b>`}, "unit": {"in"}, "center.width": {"36 1/2"}, "center.length": {"forty"},
		"borders[0].name": {"rim"}, "borders[0].cut": {"1/4"}, "seam": {"1/4"}, "spare": {"4"}}
	a := h.post("/new", typed)
	if a.status != 422 {
		t.Fatalf("POST /new with faults: got %d, want 422", a.status)
	}
	wants(t, "the form with faults", string(a.body), `value="&lt;b&gt;&#34;Reeds&#34;&lt;/b&gt;"`, `value="forty"`, `value="36 1/2"`, `value="rim"`,
		`data-first="center.length"`, `name="center.length" value="forty" autocomplete="off" data-length autocapitalize="off" spellcheck="false" aria-describedby="center.length:fault" aria-invalid="true"`,
		`id="borders[0].cut:fault">This is 1/4 in`)
	if strings.Contains(string(a.body), "<b>\"Reeds") {
		t.Error("a title came back as markup")
	}

	typed.Set("center.length", "48 1/2")
	typed.Set("borders[0].cut", "5 1/2")
	typed.Set("do", "add")
	wants(t, "a border added", string(h.post("/new/edit", typed).body), `name="borders[1].cut"`, `value="rim"`, `value="5 1/2"`)
	wants(t, "the preview", string(h.post("/new/preview", typed).body), "<svg", "63 1/2 in", "58 in")

	a = h.post("/new", typed)
	to := a.header.Get("Location")
	if a.status != 303 || !strings.HasPrefix(to, "/s/") {
		t.Fatalf("POST /new: got %d to %q, want 303 to the session", a.status, to)
	}
	page := h.page(200, to)
	wants(t, "the new session", page, `&lt;b&gt;&#34;Reeds&#34;&lt;/b&gt;`)
	if strings.Contains(page, "<b>\"Reeds") {
		t.Error("a title stands in the session as markup")
	}
	if a = h.post("/demo", nil); a.status != 303 {
		t.Errorf("POST /demo: got %d, want 303", a.status)
	}
	if a = h.post("/new", url.Values{"title": {strings.Repeat("x", 2<<20)}}); a.status != 413 {
		t.Errorf("POST /new with 2 MiB: got %d, want 413", a.status)
	}
}

func TestASessionPageHoldsEveryStep(t *testing.T) {
	h := openHouse(t)
	for _, name := range []string{"harbour-lanterns", "thin-sides", "reed-bank"} {
		id := h.made(planOf(t, name))
		snap, err := h.store.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		page, drawings := h.page(200, "/s/"+id), h.page(200, "/s/"+id+"/drawings")
		drawn := map[string]bool{}
		for _, of := range regexp.MustCompile(`data-of="([^"]*)"`).FindAllStringSubmatch(drawings, -1) {
			for _, id := range strings.Fields(of[1]) {
				drawn[id] = true
			}
		}
		var parts []string
		for _, stage := range snap.Work.Stages {
			parts = append(parts, `id="l-`+stage.ID+`"`)
			for _, step := range stage.Steps {
				parts = append(parts, `id="s-`+step.ID+`"`)
				for _, tick := range step.Ticks {
					parts = append(parts, `id="t-`+tick.ID+`"`)
					if !drawn[tick.ID] {
						t.Errorf("%s: the drawings have none for %s", name, tick.ID)
					}
				}
				for _, m := range step.Measures {
					parts = append(parts, `data-measure="`+m.ID+`"`)
				}
			}
		}
		wants(t, name, page, parts...)
	}
}

func TestWhatIsLookedAtStandsInTheAddress(t *testing.T) {
	h := openHouse(t)
	id := h.made(web.DemoPlan)
	at := "/s/" + id
	for name, c := range map[string]struct {
		path  string
		parts []string
	}{
		"the work itself":               {at, []string{`data-view="step"`, `data-mode="tick"`}},
		"a step ahead":                  {at + "/step/corner-3", []string{`data-looking`, `data-mode="locked"`, "Not yet: first"}},
		"a tick of it":                  {at + "/step/corner-3?tick=miter.3.trimmed", []string{`id="do" class="cut"`, `data-mode="locked"`}},
		"a tick that is none":           {at + "/step/corner-3?tick=nonsense", []string{`data-mode="locked"`}},
		"a step that can be begun":      {at + "/step/fabric-1", []string{`data-mode="hereon"`}},
		"the steps of a stage":          {at + "/stage/miter", []string{`data-view="list"`, `data-mode="list"`}},
		"the sheet":                     {at + "/sheet", []string{"65 1/2 in", "least length"}},
		"the sheet's corner in degrees": {at + "/sheet", []string{"45.0°"}},
	} {
		wants(t, name, h.page(200, c.path), c.parts...)
	}
	for _, path := range []string{at + "/nowhere", at + "/step/nowhere", at + "/stage/nowhere", "/s/nothing", "/s/nothing/sheet", "/s/nothing/drawings", "/s/nothing/corner-1", "/s/nothing/step/corner-1", "/static/nothing.css"} {
		page := h.page(404, path)
		if !strings.Contains(page, "There is ") {
			t.Errorf("GET %s: got %q, want a sentence", path, page)
		}
	}
}

// Steps once stood beside the session's pages, where one called like a page could not be
// reached: what was written down then leads on.
func TestOldAddressesOfStepsLeadOn(t *testing.T) {
	h := openHouse(t)
	id := h.made(web.DemoPlan)
	for from, to := range map[string]string{
		"/s/" + id + "/corner-3":                      "/s/" + id + "/step/corner-3",
		"/s/" + id + "/corner-3?tick=miter.3.trimmed": "/s/" + id + "/step/corner-3?tick=miter.3.trimmed",
	} {
		req, err := http.NewRequest(http.MethodGet, h.url+from, nil)
		if err != nil {
			t.Fatal(err)
		}
		res, err := http.DefaultTransport.RoundTrip(req)
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		if got := res.Header.Get("Location"); res.StatusCode != http.StatusMovedPermanently || got != to {
			t.Errorf("GET %s: got %d to %q, want 301 to %q", from, res.StatusCode, got, to)
		}
		h.page(200, from)
	}
}

func TestTicksWorkWithoutAScript(t *testing.T) {
	h := openHouse(t)
	id := h.made(web.DemoPlan)
	snap, _ := h.store.Get(id)
	tick := snap.Work.Stages[0].Steps[0].Ticks[0].ID
	form := url.Values{"op": {"one"}, "kind": {"tick"}, "tick": {tick}, "done": {"true"}}
	for range 2 { // the second is the same op
		if a := h.post("/s/"+id+"/do", form); a.status != 303 || a.header.Get("Location") != "/s/"+id {
			t.Fatalf("POST do: got %d to %q, want 303 back", a.status, a.header.Get("Location"))
		}
	}
	page := h.page(200, "/s/"+id)
	wants(t, "after the tick", page, `data-rev="2"`, `name="of" value="one"`, "Undo")
	if a := h.post("/s/"+id+"/do", url.Values{"op": {"two"}, "kind": {"tick"}, "tick": {"miter.1.sewn"}, "done": {"true"}}); a.status != 409 {
		t.Errorf("POST do of a locked tick: got %d, want 409", a.status)
	}
	h.post("/s/"+id+"/do", url.Values{"op": {"three"}, "kind": {"undo"}, "of": {"one"}})
	if snap, _ = h.store.Get(id); snap.Work.Stages[0].Steps[0].Done {
		t.Error("undo by form: the tick is still done")
	}
}

func TestAFinishedQuiltSaysSo(t *testing.T) {
	h := openHouse(t)
	id := h.made(planOf(t, "tiny-spare"))
	snap, err := h.store.Get(id)
	if err != nil {
		t.Fatal(err)
	}
	yes := true
	for _, stage := range snap.Work.Stages {
		for _, step := range stage.Steps {
			for _, tick := range step.Ticks {
				op := steps.Op{ID: tick.ID, Kind: steps.KindTick, Tick: tick.ID, Done: &yes}
				if _, err := h.store.Do(t.Context(), id, op); err != nil {
					t.Fatalf("Do(%s): %v", tick.ID, err)
				}
			}
		}
	}
	wants(t, "the end", h.page(200, "/s/"+id), `data-view="end"`, "Pressed and done", snap.Work.Sheet.Finished.Width.Shown())
	wants(t, "home", h.page(200, "/"), "pressed and done")
}

// What a tablet loads before it shows the step: page, style, scripts and font, as
// they go over the wire. The bar is the project's own: 100 KB.
func TestASessionPageIsLight(t *testing.T) {
	h := openHouse(t)
	for _, name := range []string{"harbour-lanterns", "twelve-borders"} {
		scripts := 0
		at := "/s/" + h.made(planOf(t, name))
		page := h.page(200, at)
		sum, parts := h.weight(at), []string{fmt.Sprintf("page %d", h.weight(at))}
		for _, m := range regexp.MustCompile(`(?:href|src)="(/static/[^"]+)"`).FindAllStringSubmatch(page, -1) {
			n := h.weight(m[1])
			sum += n
			if strings.Contains(m[1], ".js?") {
				scripts += n
			}
			parts = append(parts, fmt.Sprintf("%s %d", strings.SplitN(m[1][8:], "?", 2)[0], n))
		}
		t.Logf("%s: %d bytes over the wire (%s); its drawings follow with %d", name, sum, strings.Join(parts, ", "), h.weight(at+"/drawings"))
		if sum > 100_000 {
			t.Errorf("%s: %d bytes over the wire, want at most 100000", name, sum)
		}
		if scripts > 16_000 {
			t.Errorf("%s: its scripts are %d bytes over the wire, want at most 16000", name, scripts)
		}
	}
}

func (h *house) weight(path string) int {
	h.t.Helper()
	req, err := http.NewRequest(http.MethodGet, h.url+path, nil)
	if err != nil {
		h.t.Fatal(err)
	}
	req.Header.Set("Accept-Encoding", "gzip")
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		h.t.Fatal(err)
	}
	defer res.Body.Close()
	n, err := io.Copy(io.Discard, res.Body)
	if err != nil || res.StatusCode != 200 {
		h.t.Fatalf("GET %s: %d %v", path, res.StatusCode, err)
	}
	return int(n)
}

func TestAssetsAreKeptForEver(t *testing.T) {
	h := openHouse(t)
	page := h.page(200, "/")
	for _, m := range regexp.MustCompile(`(?:href|src)="(/static/[^"]+)"`).FindAllStringSubmatch(page, -1) {
		a := h.call(http.MethodGet, m[1], "")
		if a.status != 200 || !strings.Contains(a.header.Get("Cache-Control"), "immutable") {
			t.Errorf("GET %s: got %d, %q, want 200 and immutable", m[1], a.status, a.header.Get("Cache-Control"))
		}
		bare := strings.SplitN(m[1], "?", 2)[0]
		if a = h.call(http.MethodGet, bare, ""); a.header.Get("Cache-Control") != "no-cache" || a.header.Get("ETag") == "" {
			t.Errorf("GET %s: got %q, %q, want no-cache and an ETag", bare, a.header.Get("Cache-Control"), a.header.Get("ETag"))
		}
	}
	wants(t, "the style", string(h.call(http.MethodGet, "/static/plain.css", "").body), static.Font+"?")
}

// Pages may hold neither inline script nor inline style: the policy forbids both.
func TestPagesObeyTheirPolicy(t *testing.T) {
	h := openHouse(t)
	at := "/s/" + h.made(web.DemoPlan)
	inline := regexp.MustCompile(`(?i)<script(?:[^>]*[^/])?>[^<]|<style|\sstyle=|\son[a-z]+=|javascript:`)
	for _, path := range []string{"/", "/new", "/devices", at, at + "/sheet", at + "/stage/sew", at + "/drawings"} {
		if found := inline.FindString(h.page(200, path)); found != "" {
			t.Errorf("GET %s: holds %q, which its policy forbids", path, found)
		}
	}
	if found := inline.FindString(string(h.visitor().pair("code", "1").body)); found != "" {
		t.Errorf("POST /pair: holds %q, which its policy forbids", found)
	}
}

// Old tablets stop at scripts of 2015: one newer token, and nothing runs.
func TestScriptsAreOfThePlainKind(t *testing.T) {
	newer := map[string]string{
		`\?\.[a-zA-Z_$\[(]`: "optional chaining", `\?\?`: "nullish operator", `\basync\b`: "async", `\bawait\b`: "await",
		`\*\*`: "power operator", `\.\.\.`: "spread (of objects, to be safe)", `\bimport\b|\bexport\b`: "modules",
		`catch\s*\{`: "catch without a name", `[0-9]_[0-9]`: "digits with underscores", `(?m)^\s*(static|#)\s*\w+\s*=`: "class fields",
		`\.replaceAll\(|\.at\(|\.flat\(|\.flatMap\(|structuredClone|replaceChildren|Object\.(entries|values|fromEntries)|padStart|randomUUID`: "a newer library",
	}
	quoted := regexp.MustCompile(`'(?:[^'\\\n]|\\.)*'|//[^\n]*`)
	names, err := static.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range names {
		if !strings.HasSuffix(f.Name(), ".js") || f.Name() == static.Worker { // what runs a worker is newer
			continue
		}
		data, err := static.Files.ReadFile(f.Name())
		if err != nil {
			t.Fatal(err)
		}
		text := quoted.ReplaceAllString(string(data), "''")
		for pattern, what := range newer {
			if found := regexp.MustCompile(pattern).FindString(text); found != "" {
				t.Errorf("%s: holds %q: %s", f.Name(), found, what)
			}
		}
	}
}

func TestMeasuresAreKeptWithoutAScript(t *testing.T) {
	h := openHouse(t)
	id := h.made(web.DemoPlan)
	wants(t, "the step", h.page(200, "/s/"+id+"/step/widths"), `name="width-middle"`, "Keep what was measured")
	send := func(width string) response {
		return h.post("/s/"+id+"/do", url.Values{"kind": {"measures"}, "step": {"widths"}, "width-top": {""}, "width-middle": {width}, "width-bottom": {"36 1/2"}})
	}
	if a := send(" 36 3/8 "); a.status != 303 || a.header.Get("Location") != "/s/"+id+"/step/widths" {
		t.Fatalf("measures by a form: got %d to %q, want 303 back to the step", a.status, a.header.Get("Location"))
	}
	page := h.page(200, "/s/"+id+"/step/widths")
	wants(t, "afterwards", page, `value="36 3/8"`, `value="36 1/2"`, `data-rev="3"`)
	if send("36 3/8"); !strings.Contains(h.page(200, "/s/"+id), `data-rev="3"`) {
		t.Error("the same again made another revision")
	}
	a := send("three feet")
	if wants(t, "what is no length", string(a.body), "The measure"); a.status != 422 {
		t.Errorf("what is no length: got %d, want 422", a.status)
	}
	if a := h.post("/s/"+id+"/do", url.Values{"kind": {"measures"}, "step": {"moon"}}); a.status != 404 {
		t.Errorf("measures of no step: got %d, want 404", a.status)
	}
}

package main

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"

	"cornerwise/session/web"
)

// lan serves on every network of this computer, and says where others find it.
func lan(t *testing.T, args ...string) (s *server, there string) {
	t.Helper()
	s = start(t, t.TempDir(), append([]string{"--listen", ":0"}, args...)...)
	found := regexp.MustCompile(`(?m)^ .*(https?://\S+)/$`).FindAllStringSubmatch(s.words, -1)
	if len(found) == 0 {
		t.Skip("this computer is on no network")
	}
	return s, found[0][1]
}

// A tablet is let in by the picture on the computer's page, another by the code in
// the terminal; what the computer forgets is out while its page is open.
func TestTabletsPairByPictureAndByCode(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("zbarimg"); err != nil {
		t.Skip("no zbarimg found; install zbar-tools, or run .ci/test")
	}
	b := newBrowser(t)
	s, there := lan(t, "--demo")

	byCode := b.tablet(810, 1080)
	code := regexp.MustCompile(`code (\d{4} \d{4})\.`).FindStringSubmatch(s.words)
	if code == nil {
		t.Fatalf("at the start: printed %q, want a code", s.words)
	}
	byCode.open(there + "/")
	byCode.until("the page where it pairs", `location.pathname === "/pair"`)
	byCode.fill("#code", "1111 1111")
	byCode.tap("#pair button")
	byCode.until("word that the code is wrong", `[...document.querySelectorAll(".fault")].some(f => f.textContent.includes("not one"))`)
	byCode.shot("pair")
	byCode.fill("#code", code[1])
	byCode.tap("#pair button")
	byCode.until("the first page", `location.pathname === "/" && document.querySelector("a.go")`)

	computer := b.tablet(1280, 800)
	computer.open(s.url + "/devices")
	computer.shot("devices")
	shown := js[string](computer, `document.querySelector(".code").textContent`)
	picture := filepath.Join(shots, "1280x800", "devices.png")
	seen, err := exec.Command("zbarimg", "--quiet", "--raw", picture).Output()
	url := strings.TrimSpace(string(seen))
	if !strings.HasPrefix(url, there+"/pair#") {
		t.Fatalf("the picture on the page: read as %q (%v), want %s/pair#…", url, err, there)
	}
	byPicture := b.tablet(1080, 810)
	byPicture.open(url)
	byPicture.until("the first page", `location.pathname === "/" && document.querySelector("a.go")`)
	if left := js[string](byPicture, "location.href + document.cookie"); left != there+"/" {
		t.Errorf("after pairing: got %q, want the bare address and no cookie for scripts", left)
	}
	computer.until("both devices and a new code", `document.querySelectorAll(".in li").length === 2`)
	if now := js[string](computer, `document.querySelector(".code").textContent`); now == shown {
		t.Errorf("the code on the computer's page is still %s, which was used", now)
	}

	// Plain forms name their origin on plain http too: undone and done again.
	byPicture.tap(".first .tobin button")
	byPicture.until("the quilt in the bin", `document.querySelector(".undone")`)
	byPicture.tap(".undone button")
	byPicture.until("the quilt back", `location.search === "" && document.querySelector("a.go")`)

	byPicture.tap("a.go")
	byPicture.until("the session, in step", `document.readyState === "complete" && document.querySelector("#sync[data-sync=in]")`)
	computer.tap(`.in > form button`)
	computer.until("no device", `document.querySelectorAll(".in li").length === 0`)
	byPicture.until("word that it is out", `!document.getElementById("warned").hidden && document.getElementById("warned").textContent.includes("may not come in")`)
	byPicture.open(there + "/")
	byPicture.until("the page where it pairs", `location.pathname === "/pair"`)
	s.stop(syscall.SIGTERM)
	for what, secret := range map[string]string{"a code": code[1], "a code without its gap": strings.ReplaceAll(code[1], " ", ""), "a token": url[strings.Index(url, "#")+1:]} {
		if strings.Contains(s.stderr.String(), secret) {
			t.Errorf("the log holds %s", what)
		}
	}
}

// Where the computer has no screen, the command shows the next way in.
func TestPairCommand(t *testing.T) {
	s, there := lan(t, "--tls")
	_, port, _ := strings.Cut(strings.TrimPrefix(s.url, "http://"), ":")
	code := func(out string) string {
		found := regexp.MustCompile(`type the code (\d{4} \d{4})\.`).FindStringSubmatch(out)
		if found == nil || !strings.Contains(out, there+"/") || !strings.Contains(out, "\x1b[97;40m") {
			t.Fatalf("cornerwise pair: printed %q, want a picture, an address and a code", out)
		}
		return found[1]
	}
	first := code(s.words)
	status, out, errs := once(nil, "pair", "--listen", ":"+port)
	if status != 0 || errs != "" || code(out) != first {
		t.Errorf("cornerwise pair: exit %d, %q, code %s; want the code that stands, %s", status, errs, code(out), first)
	}
	status, out, errs = once([]string{"CORNERWISE_LISTEN=:" + port}, "pair", "--looks")
	if status != 0 || errs != "" || code(out) == first || !strings.Contains(out, "may look and not tick") {
		t.Errorf("cornerwise pair --looks: exit %d, %q, %q; want another code", status, errs, out)
	}
	for _, c := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"no one there", []string{"--listen", "127.0.0.1:1"}, 1, "no Cornerwise answers"},
		{"an unknown option", []string{"--all"}, 2, "no option --all"},
		{"a word too many", []string{"tablet"}, 2, "not understood"},
		{"an address without a port", []string{"--listen", "8370"}, 2, "with a port"},
	} {
		status, out, errs := once(nil, append([]string{"pair"}, c.args...)...)
		if status != c.code || out != "" || !strings.Contains(errs, c.says) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%s: got exit %d, %q, %q; want %d and a line with %q", c.name, status, out, errs, c.code, c.says)
		}
	}
	alone := start(t, t.TempDir())
	status, _, errs = once(nil, "pair", "--listen", strings.TrimPrefix(alone.url, "http://"))
	if status != 1 || !strings.Contains(errs, "no other device can reach") {
		t.Errorf("cornerwise pair for one on loopback: exit %d, %q; want that no one can reach it", status, errs)
	}
}

// A quilt is named by its title or its id; what is not clear is refused, with what there is.
func TestPairCommandForOneQuilt(t *testing.T) {
	s, there := lan(t, "--demo")
	_, port, _ := strings.Cut(strings.TrimPrefix(s.url, "http://"), ":")
	pair := func(args ...string) (int, string, string) {
		return once(nil, append([]string{"pair", "--listen", ":" + port}, args...)...)
	}
	called := strings.Replace(web.DemoPlan, web.DemoTitle, "Reed bank", 1)
	its := s.planned(called)
	for _, meant := range []string{"Reed bank", " reed BANK", its} {
		status, out, errs := pair("--quilt", meant)
		if status != 0 || errs != "" || !strings.Contains(out, `lets in one device, for "Reed bank" only, until`) {
			t.Errorf("cornerwise pair --quilt %q: exit %d, %q, %q; want a code for it", meant, status, errs, out)
		}
	}
	status, out, errs := pair("--quilt", its, "--looks")
	if status != 0 || !strings.Contains(out, `which may look and not tick, for "Reed bank" only`) {
		t.Fatalf("cornerwise pair --quilt --looks: exit %d, %q, %q", status, errs, out)
	}
	code := regexp.MustCompile(`type the code (\d{4} \d{4})\.`).FindStringSubmatch(out)[1]
	client := noFollow(nil)
	if res, _ := fetch(t, client, "POST", there+"/pair", there, "code="+url.QueryEscape(code)); res.StatusCode != 303 {
		t.Fatalf("POST /pair with its code: got %d, want 303", res.StatusCode)
	}
	for path, want := range map[string]int{"/": 303, "/s/" + its: 200, "/api/v1/sessions": 404, "/new": 404} {
		if res, _ := fetch(t, client, "GET", there+path, "", ""); res.StatusCode != want {
			t.Errorf("GET %s on the device: got %d, want %d", path, res.StatusCode, want)
		}
	}

	twice := s.planned(called)
	for _, c := range []struct {
		name, meant string
		code        int
		says        []string
	}{
		{"a title that none has", "Reed", 1, []string{`no quilt is called "Reed"`, `"Harbour lanterns" (`, `"Reed bank" (` + its + ")"}},
		{"no title", " ", 2, []string{"needs the title"}},
		{"a title that two have", "Reed bank", 1, []string{its, twice, "by its id"}},
	} {
		status, out, errs := pair("--quilt", c.meant)
		if status != c.code || out != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("%s: got exit %d, %q, %q; want %d and a line", c.name, status, out, errs, c.code)
		}
		for _, part := range c.says {
			if !strings.Contains(errs, part) {
				t.Errorf("%s: got %q, want %q in it", c.name, errs, part)
			}
		}
	}
}

// A server from before there were pairings for one quilt leaves that out of the question, and
// its code would let in to all. Here one is asked through what leaves it out.
func TestTheCodeOfAnOlderServerIsNotShown(t *testing.T) {
	s, _ := lan(t, "--demo")
	older := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodPost {
			r.Body = io.NopCloser(strings.NewReader(`{"looks": false}`))
		}
		asked, err := http.NewRequest(r.Method, s.url+r.URL.String(), r.Body)
		if err != nil {
			panic(err)
		}
		res, err := http.DefaultClient.Do(asked)
		if err != nil {
			panic(err)
		}
		defer res.Body.Close()
		w.WriteHeader(res.StatusCode)
		io.Copy(w, res.Body)
	}))
	defer older.Close()
	pair := []string{"pair", "--listen", strings.TrimPrefix(older.URL, "http://")}
	if status, out, errs := once(nil, pair...); status != 0 || !strings.Contains(out, "type the code") {
		t.Fatalf("cornerwise pair: exit %d, %q, %q; want a code", status, out, errs)
	}
	status, out, errs := once(nil, append(pair, "--quilt", "Harbour lanterns")...)
	if status != 1 || out != "" || !strings.Contains(errs, "an older Cornerwise, whose code would let in to every quilt") {
		t.Errorf("cornerwise pair --quilt: exit %d, %q, %q; want no code, and why", status, out, errs)
	}
}

// --open skips pairing, nothing else, and says so.
func TestOpenAsksNoOneAndWarns(t *testing.T) {
	s, there := lan(t, "--open")
	if !strings.Contains(s.words, "WARNING: --open asks no one who they are.") || strings.Contains(s.words, "type the code") {
		t.Errorf("at the start: printed %q, want a warning and no code", s.words)
	}
	client := noFollow(nil)
	for path, want := range map[string]int{"/": 200, "/api/v1/sessions": 200, "/pair": 303, "/devices": 403, "/trust": 404} {
		if res, _ := fetch(t, client, "GET", there+path, "", ""); res.StatusCode != want {
			t.Errorf("GET %s from the network: got %d, want %d", path, res.StatusCode, want)
		}
	}
	if res, _ := fetch(t, client, "POST", there+"/demo", there, ""); res.StatusCode != 303 {
		t.Errorf("POST from the network: got %d, want it taken", res.StatusCode)
	}
	if res, _ := fetch(t, client, "POST", there+"/demo", "http://evil.example", ""); res.StatusCode != 403 {
		t.Errorf("POST from another origin: got %d, want 403", res.StatusCode)
	}
	if status := s.withHost("evil.example", "/"); status != 421 {
		t.Errorf("by a name that was turned here: got %d, want 421", status)
	}
}

//go:build unix

package main

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// A desktop is a computer with a screen, whose opener of pages notes what it is asked to open.
type desktop struct {
	t    *testing.T
	note string
	env  []string
}

func newDesktop(t *testing.T) *desktop {
	t.Helper()
	folder := t.TempDir()
	d := &desktop{t: t, note: filepath.Join(folder, "opened")}
	// It stays, as one does that starts the browser.
	script := "#!/bin/sh\necho \"$1 $$\" >>'" + d.note + "'\nexec sleep 60\n"
	for _, name := range []string{"xdg-open", "open"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(script), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	d.env = append(os.Environ(), "PATH="+folder+":"+os.Getenv("PATH"), "DISPLAY=:99",
		"SSH_CONNECTION=", "SSH_TTY=", "CORNERWISE_NO_BROWSER=")
	t.Cleanup(func() {
		for _, line := range d.lines() {
			if _, pid, found := strings.Cut(line, " "); found {
				n, _ := strconv.Atoi(pid)
				syscall.Kill(n, syscall.SIGKILL)
			}
		}
	})
	return d
}

func (d *desktop) lines() []string {
	said, _ := os.ReadFile(d.note)
	return strings.Split(strings.TrimSuffix(string(said), "\n"), "\n")
}

// opened waits for so many pages, and is the last one, with the process that opened it.
func (d *desktop) opened(n int) (page string, opener int) {
	d.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(10 * time.Millisecond) {
		lines := d.lines()
		if page, pid, found := strings.Cut(lines[len(lines)-1], " "); found && len(lines) == n {
			opener, _ = strconv.Atoi(pid)
			return page, opener
		}
		if time.Now().After(end) {
			d.t.Fatalf("opened: got %q, want %d pages", lines, n)
		}
	}
}

// start serves on a free port of this computer.
func (d *desktop) start(data string, args ...string) *server {
	d.t.Helper()
	cmd := exec.Command(command, append([]string{"--listen", "127.0.0.1:0", "--data", data}, args...)...)
	cmd.Env, cmd.Dir = d.env, readOnly
	s := await(d.t, data, cmd)
	if s.url == "" {
		d.t.Fatalf("printed %q, want the address to open; stderr %s", s.words, s.stderr)
	}
	return s
}

// readOnly is a folder that nobody writes to.
const readOnly = "/proc"

// A start opens the first page, from whatever folder. The window says how to stop it; that ends
// the program, and not the browser.
func TestAStartOpensTheFirstPage(t *testing.T) {
	d := newDesktop(t)
	s := d.start(t.TempDir())
	page, opener := d.opened(1)
	if page != s.url+"/" {
		t.Errorf("opened %s, want %s/", page, s.url)
	}
	if !strings.Contains(s.words, "Ctrl-C stops it") || !strings.Contains(s.words, "closing this window") {
		t.Errorf("it printed %q, want how to stop it", s.words)
	}
	of := func(pid int) int {
		group, err := syscall.Getpgid(pid)
		if err != nil {
			t.Fatalf("process %d: %v", pid, err)
		}
		return group
	}
	if of(opener) == of(s.cmd.Process.Pid) {
		t.Error("the browser stands in the program's group: Ctrl-C would end it too")
	}
	s.stop(syscall.SIGHUP) // its window is closed

	// Nobody is there to see a page, or none is wanted.
	usual := d.env
	for _, c := range []struct {
		name string
		env  []string
		args []string
	}{
		{"--no-browser", nil, []string{"--no-browser"}},
		{"by the environment", []string{"CORNERWISE_NO_BROWSER=true"}, nil},
		{"no screen", []string{"DISPLAY=", "WAYLAND_DISPLAY="}, nil},
		{"over a line from elsewhere", []string{"SSH_CONNECTION=192.168.7.20 50000 192.168.7.2 22"}, nil},
	} {
		d.env = append(append([]string{}, usual...), c.env...)
		d.start(t.TempDir(), c.args...).stop(syscall.SIGTERM)
		if lines := d.lines(); len(lines) != 1 {
			t.Errorf("%s: opened %q, want none but the first", c.name, lines)
		}
	}
	d.env = usual
	if s := d.start(t.TempDir()); true {
		d.opened(2) // all the while it would have
		s.stop(syscall.SIGTERM)
	}
}

// A start where it runs already opens the page of that one, and ends as one that did what it
// was asked to.
func TestASecondStartLeadsToTheFirst(t *testing.T) {
	d := newDesktop(t)
	data := t.TempDir()
	s := d.start(data)
	d.opened(1)
	for i, c := range []struct {
		args []string
		more string
	}{
		{[]string{"--data", data}, ""},
		{[]string{"--data", data, "--tls"}, "for other options stop that one first"},
	} {
		cmd := exec.Command(command, c.args...)
		cmd.Env = d.env
		out, err := cmd.CombinedOutput()
		want := "Cornerwise is running already. Its first page is " + s.url + "/\n"
		if err != nil || !strings.HasPrefix(string(out), want) || !strings.Contains(string(out), c.more) {
			t.Errorf("cornerwise %s: got %q, %v; want %q and %q", c.args, out, err, want, c.more)
		}
		if page, _ := d.opened(2 + i); page != s.url+"/" {
			t.Errorf("cornerwise %s: opened %s, want %s/", c.args, page, s.url)
		}
	}
	if status, err := s.call("GET", "/healthz", "", nil); status != 200 {
		t.Errorf("the first one: %d, %v, want it to go on", status, err)
	}
	// Its code is found wherever it listens.
	if code, _, stderr := once(nil, "pair", "--data", data); !strings.Contains(stderr, "no other device can reach this") {
		t.Errorf("cornerwise pair: got exit %d, %q, want the answer of the one that runs", code, stderr)
	}
}

// What lies in the place of the file by which a start finds another holds nobody up.
func TestAStartWaitsForNoPipe(t *testing.T) {
	data := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(data, "cornerwise.serving"), 0o600); err != nil {
		t.Skip(err)
	}
	start(t, data).stop(syscall.SIGTERM)
}

// Of two that are opened at the same time one serves, and the other leads there.
func TestTwoAreOpenedAtOnce(t *testing.T) {
	data := t.TempDir()
	var both [2]*server
	var starts sync.WaitGroup
	for i := range both {
		starts.Go(func() { both[i] = launch(t.Context(), t, command, data) })
	}
	starts.Wait()
	serves, leads := both[0], both[1]
	if serves.url == "" {
		serves, leads = leads, serves
	}
	if serves.url == "" || leads.url != "" {
		t.Fatalf("they printed %q and %q, want one that serves", both[0].words, both[1].words)
	}
	if code := leads.cmd.ProcessState.ExitCode(); code != 0 || !strings.Contains(leads.words, serves.url) {
		t.Errorf("the other: exit %d, %q, %s; want 0 and %s", code, leads.words, leads.stderr, serves.url)
	}
}

// Where it can't serve and was opened without a window, the browser says why.
func TestWhyItCanNotServeIsSaidInTheBrowser(t *testing.T) {
	d := newDesktop(t)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(command, "--data", filepath.Join(file, "below"))
	var stderr strings.Builder
	cmd.Env, cmd.Stderr = d.env, &stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	page, _ := d.opened(1)
	res, err := http.Get(page)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	said, err := io.ReadAll(res.Body)
	if err != nil || !strings.Contains(string(said), "The sessions in "+filepath.Join(file, "below")+" can") {
		t.Errorf("the page says %q, %v, want why", said, err)
	}
	style := regexp.MustCompile(`/static/plain\.css[^"]*`).FindString(string(said))
	if res, err := http.Get(strings.TrimSuffix(page, "/") + style); err != nil || res.StatusCode != http.StatusOK {
		t.Errorf("its style %q: %v, %v", style, res, err)
	}
	if err := cmd.Wait(); cmd.ProcessState.ExitCode() != 1 || !strings.Contains(stderr.String(), "can't be opened") {
		t.Errorf("then it ends with %v, %q; want exit 1, and the same", err, stderr.String())
	}
}

// unasked starts it as one does who asks for nothing.
func unasked(t *testing.T, data string) *server {
	t.Helper()
	return await(t, data, exec.Command(command, "--data", data, "--name", "none"))
}

// Where another program has the usual port, the next free one is taken and told, on the page of
// devices too. Where all of them are taken it says what to do; and who asks for a port gets that
// one or none.
func TestATakenPortIsPassedOver(t *testing.T) {
	if runInOwnNetwork(t) {
		return
	}
	another := await(t, "", exec.Command(command, "--data", t.TempDir(), "--listen", "127.0.0.1:8370"))
	if another.url != "" { // where nobody else has it
		s := unasked(t, t.TempDir())
		if want := "Another Cornerwise, with sessions of its own (http://127.0.0.1:8370/), has the port"; !strings.Contains(strings.Join(strings.Fields(s.words), " "), want) {
			t.Errorf("beside another one it printed %q, want %q", s.words, want)
		}
		s.stop(syscall.SIGTERM)
		another.stop(syscall.SIGTERM)
		astray := s.leadsAstray()
		s = unasked(t, t.TempDir())
		if n := astray(); n != 0 || !strings.Contains(s.words, "Another program has the port 8370") {
			t.Errorf("beside one that leads elsewhere: %d went there, and it printed %q", n, s.words)
		}
		s.stop(syscall.SIGTERM)
	}
	if held, err := net.Listen("tcp", "127.0.0.1:8370"); err == nil { // for this computer only
		defer held.Close()
	}
	s := unasked(t, t.TempDir())
	var port int
	if n, _ := fmt.Sscanf(s.url, "http://127.0.0.1:%d", &port); n != 1 || port <= usualPort || port > lastPort {
		t.Fatalf("beside a program at port 8370: serves at %q, stderr %s; want a port up to %d", s.url, s.stderr, lastPort)
	}
	if want := fmt.Sprintf("has the port 8370, so it is %d this time", port); !strings.Contains(s.words, want) {
		t.Errorf("it printed %q, want %q", s.words, want)
	}
	page := s.page("/devices")
	if strings.Contains(page, ":8370") || len(s.others()) > 0 && !strings.Contains(page, fmt.Sprint(":", port)) {
		t.Errorf("the page of devices has %q, want the port %d only", page, port)
	}
	for at := usualPort; at <= lastPort; at++ {
		if held, err := net.Listen("tcp", fmt.Sprint(":", at)); err == nil {
			defer held.Close()
		}
	}
	code, _, stderr := once(nil, "--data", t.TempDir())
	if code != 1 || !strings.Contains(stderr, "other programs have all the ports from 8370 to 8389") || !strings.Contains(stderr, "--listen :9370") {
		t.Errorf("with all ports taken: exit %d, %q", code, stderr)
	}
	code, _, stderr = once(nil, "--data", t.TempDir(), "--listen", ":8370")
	if code != 1 || !strings.Contains(stderr, ":8370 is in use by another program") {
		t.Errorf("with --listen :8370: exit %d, %q, want that port or none", code, stderr)
	}
}

// leadsAstray has a program at the usual port that sends whoever asks to where a Cornerwise seems to
// be. How many came there is told at the end of it.
func (s *server) leadsAstray() (end func() (came int32)) {
	s.t.Helper()
	var came atomic.Int32
	there := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		came.Add(1)
		io.WriteString(w, `{"ok": true}`)
	}))
	held, err := net.Listen("tcp", "127.0.0.1:8370")
	if err != nil {
		s.t.Fatal(err)
	}
	go http.Serve(held, http.RedirectHandler(there.URL, http.StatusFound))
	return func() int32 {
		held.Close()
		there.Close()
		return came.Load()
	}
}

// page is what a page has on this computer.
func (s *server) page(path string) string {
	s.t.Helper()
	res, err := http.Get(s.url + path)
	if err != nil {
		s.t.Fatal(err)
	}
	defer res.Body.Close()
	said, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode != http.StatusOK {
		s.t.Fatalf("GET %s: %d, %v", path, res.StatusCode, err)
	}
	return string(said)
}

// others are the addresses for other devices.
func (s *server) others() []string {
	s.t.Helper()
	var offer struct{ Addresses []string }
	if status, err := s.call("POST", "/api/v1/offers", "{}", &offer); status != 201 {
		s.t.Fatalf("the ways in: %d, %v", status, err)
	}
	return offer.Addresses
}

// The window and the page of devices say where other devices go, in whatever networks this
// computer is, and what to do where it is in none.
func TestTheAddressesAreThoseOfTheNetworks(t *testing.T) {
	long(t)
	if os.Getenv("CORNERWISE_TEST_ALONE") == "" {
		if exec.Command("unshare", "-rn", "ip", "link", "set", "lo", "up").Run() != nil {
			t.Skip("needs unshare, ip and a network of its own")
		}
		again := exec.Command("unshare", "-rn", os.Args[0], "-test.run", "^"+t.Name()+"$", "-test.v")
		again.Env = append(os.Environ(), "CORNERWISE_TEST_ALONE=1")
		if out, err := again.CombinedOutput(); err != nil {
			t.Errorf("in a network of its own: %v\n%s", err, out)
		} else if strings.Contains(string(out), "--- SKIP") {
			t.Skipf("in a network of its own: %s", out)
		}
		return
	}
	ip := func(words string) {
		t.Helper()
		if out, err := exec.Command("ip", strings.Fields(words)...).CombinedOutput(); err != nil {
			t.Fatalf("ip %s: %v %s", words, err, out)
		}
	}
	ip("link set lo up")
	if out, err := exec.Command("ip", "link", "add", "room0", "type", "dummy").CombinedOutput(); err != nil {
		t.Skipf("no network to be made here: %s", out)
	}
	for _, name := range []string{"room1", "room2"} {
		ip("link add " + name + " type dummy")
	}
	s := unasked(t, t.TempDir())
	check := func(name string, s *server, words, page []string, addresses ...string) {
		t.Helper()
		for _, a := range addresses {
			page = append(page, a+":8370")
			if words != nil {
				words = append(words, "  http://"+a+":8370/")
			}
		}
		for _, want := range words {
			if !strings.Contains(s.words, want) {
				t.Errorf("%s: the window says %q, want %q", name, s.words, want)
			}
		}
		shown := strings.Join(strings.Fields(s.page("/devices")), " ")
		for _, want := range page {
			if !strings.Contains(shown, want) {
				t.Errorf("%s: the page of devices has no %q: %s", name, want, shown)
			}
		}
		if got := s.others(); len(got) != len(addresses) {
			t.Errorf("%s: the ways in are %q, want %q", name, got, addresses)
		}
	}
	check("in none", s, []string{"this computer is in no network. Join it to your Wi-Fi"},
		[]string{"it is in no network. Join it to your Wi-Fi"})
	for i, name := range []string{"room0", "room1", "room2"} {
		ip("link set " + name + " up")
		ip(fmt.Sprintf("addr add 192.168.%d.2/24 dev %s", 7+i, name))
	}
	s.stop(syscall.SIGTERM)
	s = unasked(t, t.TempDir())
	check("in three", s, []string{"In the other networks of this computer the address is"},
		[]string{"No other device has come yet?", "Is it a guest network?", "firewall"},
		"192.168.7.2", "192.168.8.2", "192.168.9.2")
	for _, name := range []string{"room0", "room1", "room2"} {
		ip("addr flush dev " + name)
	}
	ip("addr add fd00:7::2/64 dev room0 nodad")
	check("in one with IPv6 only, while it runs", s, nil, nil, "[fd00:7::2]")
	s.stop(syscall.SIGTERM)
	s = unasked(t, t.TempDir())
	check("in one with IPv6 only", s, []string{"point its camera at the picture"}, nil, "[fd00:7::2]")

	// This computer itself, by its own address, is no other device.
	res, err := http.Get("http://[fd00:7::2]:8370/pair")
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	check("after it", s, nil, []string{"No other device has come yet?"}, "[fd00:7::2]")
}

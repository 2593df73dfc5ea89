package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

var soakFor = flag.Duration("soak", 5*time.Second, "how long devices do their worst; from a minute on a tick has its bar of time")

const (
	soakMemory = 256 << 20
	soakTick   = 300 * time.Millisecond // 95 of 100
	soakStop   = 2 * time.Second
	// soakAnyTick is for the short run, which is one among others on the same processors.
	soakAnyTick = 10 * time.Second
)

const (
	atWork = 56 // devices of people who work
	worst  = 8  // devices that do the worst that is allowed
)

// 56 devices work as people do, and 8 do their worst, each another thing at a time. The owner
// ticks in a session beside them and is answered soon; the program's memory has a bound; each
// op that was acknowledged is there; nothing is answered as a fault; and the program stops in
// time. The test runs itself anew in a network of its own, where each device has an address.
// The bars are held to in a run of its own, of two minutes:
//
//	go test ./cmd/cornerwise -run AtTheirWorst -soak 2m -v
func TestDevicesAtTheirWorstDoNotHoldUpTheOwner(t *testing.T) {
	long(t)
	if runInOwnNetwork(t) {
		return
	}
	data := t.TempDir()
	s := start(t, data, "--listen", ":0")
	k := &soak{server: s, acked: map[string]*sync.Map{}, answers: map[string]int{}}
	k.prepare()
	var people []*guest
	for n := range atWork {
		people = append(people, k.guest(n+2))
	}
	var others []*guest
	for n := range worst {
		others = append(others, k.guest(atWork+n+2))
	}
	k.end = time.Now().Add(*soakFor)
	var all, looking sync.WaitGroup
	ended := make(chan struct{})
	looking.Go(func() { k.watchMemory(ended) })
	for n, g := range people {
		all.Go(func() { g.work(k.shared[n%len(k.shared)], n) })
	}
	for n, g := range others {
		all.Go(func() { g.doTheWorst(n) })
	}
	took := k.tickAsOwner()
	all.Wait()
	close(ended)
	looking.Wait()

	bar := soakAnyTick
	if *soakFor >= time.Minute {
		bar = soakTick
	}
	slices.Sort(took)
	p95 := took[len(took)*95/100]
	t.Logf("%d ticks of the owner: median %v, 95 of 100 within %v, the longest %v", len(took), took[len(took)/2], p95, took[len(took)-1])
	if p95 > bar {
		t.Errorf("95 of 100 ticks of the owner took up to %v, want %v", p95, bar)
	}
	peak := s.status("VmHWM")
	t.Logf("the program's memory came to %.0f MB, its own without the file's pages to %.0f MB", peak/1e6, k.own/1e6)
	if peak > soakMemory {
		t.Errorf("the program's memory came to %.0f MiB, want at most %d", peak/(1<<20), soakMemory>>20)
	}
	k.sayAnswers()
	if took := s.stop(syscall.SIGTERM); took > soakStop {
		t.Errorf("the stop took %v, want at most %v", took, soakStop)
	}
	sound(t, data)
	s = start(t, data)
	n := 0
	for id, acked := range k.acked {
		n += s.hold(id, acked)
	}
	if t.Logf("%d ops were acknowledged in %d sessions", n, len(k.acked)); n < 20 {
		t.Errorf("%d ops were acknowledged; this proves nothing", n)
	}
	s.stop(syscall.SIGTERM)
}

// A soak is what happens to one server.
type soak struct {
	*server
	end    time.Time
	own    float64 // the most memory that was the program's own, in bytes
	shared []shared

	mu      sync.Mutex
	acked   map[string]*sync.Map // by session
	answers map[string]int       // how many of each kind
}

// A shared session is one that people work on together.
type shared struct {
	id    string
	ticks []string
}

func (k *soak) prepare() {
	for n := range 8 {
		plan := awayPlan
		if n%4 == 0 {
			plan = largePlan(n)
		}
		id := k.planned(plan)
		k.shared = append(k.shared, shared{id, k.ticks(id)})
	}
}

// ticks are those of a session in the order of work.
func (k *soak) ticks(id string) (all []string) {
	k.t.Helper()
	var state struct {
		Stages []struct {
			Steps []struct {
				Ticks []struct{ ID string }
			}
		}
	}
	if status, err := k.call("GET", "/api/v1/sessions/"+id, "", &state); status != 200 || err != nil {
		k.t.Fatalf("GET a session: got %d, %v", status, err)
	}
	for _, stage := range state.Stages {
		for _, step := range stage.Steps {
			for _, tick := range step.Ticks {
				all = append(all, tick.ID)
			}
		}
	}
	return all
}

// largePlan is one of those whose sessions are the largest.
func largePlan(n int) string {
	return fmt.Sprintf(`{"title": "Harbour lanterns", "center": {"width": "%d", "length": "60"}, "borders": [`, 30+n%20) +
		strings.Repeat(`{"cut": "2"}, `, 11) + `{"cut": "3"}]}`
}

// slowPlan is one of those that take longest to reckon: many lengths on one print.
func slowPlan(n int) string {
	var all []string
	for i := range 12 {
		all = append(all, fmt.Sprintf(`{"cut": "%d/8", "cutTopBottom": "%d/8", "lengths": "least", "motif": "5", "stripe": "1 1/4",
			"fabric": {"name": "one", "usableWidth": "42", "runs": "lengthwise"}}`, 12+(7*i+n)%33, 12+(5*i+n)%31))
	}
	return `{"title": "Harbour lanterns", "center": {"width": "40", "length": "60"}, "borders": [` + strings.Join(all, ",") + `]}`
}

// tickAsOwner is how long each tick of the owner took.
func (k *soak) tickAsOwner() (took []time.Duration) {
	id := k.planned(awayPlan)
	first := k.ticks(id)[0]
	for n := 0; time.Now().Before(k.end); n++ {
		begun := time.Now()
		var answer struct{ Rev int64 }
		op := fmt.Sprint("owner-", n)
		status, err := k.call("POST", "/api/v1/sessions/"+id+"/ops", tickText(op, first, n%2 == 0), &answer)
		took = append(took, time.Since(begun))
		if long := took[n]; long > time.Second {
			k.t.Logf("%3.0f s before the end a tick of the owner took %v", time.Until(k.end).Seconds(), long)
		}
		if status != 200 || err != nil {
			k.t.Errorf("tick %d of the owner: got %d, %v", n, status, err)
			return took
		}
		k.acknowledged(id, op, answer.Rev)
		time.Sleep(time.Until(begun.Add(200 * time.Millisecond)))
	}
	return took
}

func (k *soak) acknowledged(id, op string, rev int64) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.acked[id] == nil {
		k.acked[id] = &sync.Map{}
	}
	k.acked[id].Store(op, rev)
}

// answered counts an answer of a kind.
func (k *soak) answered(deed string, status int, code string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.answers[strings.TrimSpace(fmt.Sprintf("%s %d %s", deed, status, code))]++
}

// sayAnswers fails where a device was told of a fault. That another import is under way is
// none.
func (k *soak) sayAnswers() {
	k.t.Helper()
	var all []string
	for kind, n := range k.answers {
		all = append(all, fmt.Sprintf("%s: %d", kind, n))
		if regexp.MustCompile(` 5\d\d `).MatchString(kind+" ") && !strings.HasSuffix(kind, "503 busy") && !strings.HasSuffix(kind, "503 disk-full") {
			k.t.Errorf("%d answers %q, want none", n, kind)
		}
	}
	slices.Sort(all)
	k.t.Logf("what devices were answered:\n%s", strings.Join(all, "\n"))
}

func (k *soak) watchMemory(ended chan struct{}) {
	begun := time.Now()
	said := begun
	for {
		select {
		case <-ended:
			return
		case <-time.After(100 * time.Millisecond):
		}
		own := k.status("RssAnon")
		k.own = max(k.own, own)
		if time.Since(said) > 10*time.Second && testing.Verbose() {
			said = time.Now()
			k.t.Logf("after %3.0f s: %.0f MB, %.0f MB of them its own", time.Since(begun).Seconds(), k.status("VmRSS")/1e6, own/1e6)
		}
	}
}

// status is a figure of the process, in bytes; 0 where the system does not say.
func (s *server) status(name string) float64 {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
	if err != nil {
		return 0
	}
	_, after, _ := strings.Cut(string(data), name+":")
	kib, _, _ := strings.Cut(strings.TrimSpace(after), " ")
	n, _ := strconv.ParseFloat(kib, 64)
	return n * 1024
}

// runInOwnNetwork runs the test anew where 192.168.7.0/24 is this computer's, and tells that it
// did. Where that can't be had all devices come from loopback, under another Host.
func runInOwnNetwork(t *testing.T) bool {
	t.Helper()
	if os.Getenv("CORNERWISE_TEST_ALONE") != "" {
		for _, words := range []string{"link set lo up", "addr add 192.168.7.1/24 dev lo"} {
			if out, err := exec.Command("ip", strings.Fields(words)...).CombinedOutput(); err != nil {
				t.Fatalf("ip %s: %v %s", words, err, out)
			}
		}
		return false
	}
	if _, err := exec.LookPath("ip"); err != nil || exec.Command("unshare", "-rn", "ip", "link", "set", "lo", "up").Run() != nil {
		return false
	}
	again := exec.Command("unshare", "-rn", os.Args[0], "-test.run", "^"+t.Name()+"$", "-test.v="+strconv.FormatBool(testing.Verbose()),
		"-test.timeout", "30m", "-soak", soakFor.String())
	again.Env = append(os.Environ(), "CORNERWISE_TEST_ALONE=1")
	out, err := again.CombinedOutput()
	if err != nil {
		t.Errorf("in a network of its own: %v", err)
	}
	t.Logf("in a network of its own:\n%s", out)
	return true
}

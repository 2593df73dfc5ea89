//go:build linux

package main

import (
	"bufio"
	"net"
	"os"
	"os/exec"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/godbus/dbus/v5"
)

// A saver is a desktop's screen saver, as far as browsers ask it to hold back (the Idle
// Inhibition Service of freedesktop.org). How many of them hold it back now is held.
type saver struct{ held, asked atomic.Int32 }

func (s *saver) Inhibit(program, reason string) (uint32, *dbus.Error) {
	s.held.Add(1)
	return uint32(s.asked.Add(1)), nil
}

func (s *saver) UnInhibit(uint32) *dbus.Error {
	s.held.Add(-1)
	return nil
}

// until waits for it to be held back, or not to be.
func (s *saver) until(t *testing.T, what string, held bool) {
	t.Helper()
	for end := time.Now().Add(patience); (s.held.Load() > 0) != held; time.Sleep(15 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited %v for: %s; it is held back %d times", patience, what, s.held.Load())
		}
	}
}

// newSaver starts a bus with a screen saver on it, and a screen; a browser finds them by the
// environment.
func newSaver(t *testing.T) (s *saver, environment []string) {
	t.Helper()
	long(t)
	for _, name := range []string{"dbus-daemon", "Xvfb"} {
		if _, err := exec.LookPath(name); err != nil {
			if os.Getenv("CI") != "" {
				t.Fatalf("no %s found; .ci/test installs it", name)
			}
			t.Skipf("no %s found; install it, or run .ci/test", name)
		}
	}
	address := firstLine(t, exec.Command("dbus-daemon", "--session", "--nofork", "--print-address=3"))
	display := firstLine(t, exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1400x1300x24"))
	bus, err := dbus.Connect(address)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { bus.Close() })
	s = &saver{}
	const name = "org.freedesktop.ScreenSaver"
	for _, path := range []dbus.ObjectPath{"/ScreenSaver", "/org/freedesktop/ScreenSaver"} {
		if err := bus.Export(s, path, name); err != nil {
			t.Fatal(err)
		}
	}
	if reply, err := bus.RequestName(name, dbus.NameFlagDoNotQueue); err != nil || reply != dbus.RequestNameReplyPrimaryOwner {
		t.Fatalf("RequestName(%s): got %v, %v", name, reply, err)
	}
	return s, []string{"DISPLAY=:" + display, "DBUS_SESSION_BUS_ADDRESS=" + address}
}

// firstLine starts a program that runs until the test ends, and is what it first writes to its
// third file.
func firstLine(t *testing.T, cmd *exec.Cmd) string {
	t.Helper()
	in, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	cmd.ExtraFiles = []*os.File{out}
	err = cmd.Start()
	out.Close()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
	line, err := bufio.NewReader(in).ReadString('\n')
	if err != nil {
		t.Fatalf("%v said %q: %v", cmd, line, err)
	}
	return strings.TrimSpace(line)
}

// Where the mark says that the screen stays on, the browser does hold the desktop's screen saver
// back: by its lock and by the film alike. Where the mark is gone, it does not.
func TestTheScreenSaverIsHeldBack(t *testing.T) {
	t.Parallel()
	address := ownAddress()
	if address == "" {
		t.Skip("this computer is on no network")
	}
	saver, environment := newSaver(t)
	b := newBrowser(t, chromedp.Flag("headless", false), chromedp.Env(environment...))
	s := start(t, t.TempDir(), "--open", "--listen", net.JoinHostPort("", "0"))
	_, port, err := net.SplitHostPort(strings.TrimPrefix(s.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	id := s.planned(awayPlan)
	for name, host := range map[string]string{"by a lock": "127.0.0.1", "by a film": address} {
		d := b.tablet(1080, 810)
		d.open("http://" + net.JoinHostPort(host, port) + "/s/" + id)
		d.inStep()
		if n := saver.held.Load(); n != 0 {
			t.Errorf("%s: the screen saver is held back %d times before it was asked for", name, n)
		}
		d.tap(".menu summary")
		d.tap(`.menu [data-set="awake"]`)
		d.until(name+", the mark", staysOn)
		saver.until(t, name+": the screen saver held back", true)
		d.tap(`.menu [data-set="awake"]`)
		d.until(name+", no mark", `document.querySelector(".awake").hidden`)
		saver.until(t, name+": the screen saver let go", false)
	}
}

// In the other engine too the mark tells the truth. It plays the film where it has what the film
// needs (gstreamer's plugins); elsewhere the page says that this browser can't.
func TestTheMarkTellsTheTruthInTheOtherEngine(t *testing.T) {
	t.Parallel()
	address := ownAddress()
	if address == "" {
		t.Skip("this computer is on no network")
	}
	saver, environment := newSaver(t)
	w := newWebKit(t, environment[1:]...) // it has a screen of its own
	s := start(t, t.TempDir(), "--open", "--listen", net.JoinHostPort(address, "0"))
	w.open(s.url + "/s/" + s.planned(awayPlan))
	w.until("the work", `document.getElementById("sync").dataset.sync === "in" && document.querySelector('[data-set="awake"][aria-pressed]')`)
	w.hold(".menu summary", 0)
	w.until("the menu", `document.querySelector(".menu").open`)
	w.run(nil, `(() => { document.querySelector('[data-set="awake"]').scrollIntoView(); return true })()`)
	w.hold(`[data-set="awake"]`, 0)
	w.until("an answer", `awake.mark && !awake.asking && (awake.mark.dataset.awake === "on" || !el("warned").hidden)`)
	var on bool
	w.run(&on, `awake.mark.dataset.awake === "on"`)
	t.Logf("the film plays: %v", on)
	saver.until(t, "the screen saver to be as the mark says", on)
	var warned bool
	if w.run(&warned, `!el("warned").hidden`); warned == on {
		t.Errorf("the mark says on %v, and that this browser can't %v", on, warned)
	}
}

package local_test

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"testing"

	"cornerwise/cmd/cornerwise/internal/local"
)

// says answers every request with one name, in JSON.
func says(name string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		io.WriteString(w, `{"name": "`+name+`"}`)
	})
}

// serve has a handler answer on a folder of its own until the test ends.
func serve(t *testing.T) (*local.Handler, string) {
	t.Helper()
	h, folder := local.NewHandler("http://127.0.0.1:8370"), t.TempDir()
	t.Cleanup(local.Serve(folder, h, slog.New(slog.DiscardHandler)))
	return h, folder
}

func ask(t *testing.T, folder, want string) {
	t.Helper()
	var got struct{ Name string }
	err := local.Ask(t.Context(), folder, http.MethodGet, "/check", &got)
	if err != nil || got.Name != want {
		t.Errorf("Ask = %q, %v, want %q", got.Name, err, want)
	}
}

// borrow is Borrow on the side, with its error.
func borrow(ctx context.Context, folder string) <-chan error {
	failed := make(chan error, 1)
	go func() {
		giveBack, err := local.Borrow(ctx, folder)
		if err == nil {
			giveBack()
		}
		failed <- err
	}()
	return failed
}

// The page is told at once, also while the store is lent.
func TestThePageIsToldWhateverIsUnderWay(t *testing.T) {
	_, folder := serve(t) // no store is open yet
	if page, err := local.Page(t.Context(), folder); page != "http://127.0.0.1:8370" || err != nil {
		t.Errorf("Page = %q, %v, want the address", page, err)
	}
	if page, err := local.Page(t.Context(), t.TempDir()); page != "" || !errors.Is(err, local.ErrNotServing) {
		t.Errorf("Page where nobody serves = %q, %v, want ErrNotServing", page, err)
	}
}

// What is opened in a browser is a page of a server in numbers, whatever the one that answers says.
func TestOnlyAPageIsHandedOn(t *testing.T) {
	for said, want := range map[string]bool{
		"http://127.0.0.1:8370":     true,
		"https://192.168.7.2:8370":  true,
		"http://[fe80::1%eth0]:80":  true,
		"http://elsewhere.test:80":  false,
		"http://1.2.3.4:80/x":       false,
		"http://1@2:80":             false,
		`C:\quilts\cornerwise.exe`:  false,
		"file:///tmp/x":             false,
		"--version":                 false,
		"http://127.0.0.1:1\n":      false,
		"http://127.0.0.1:1\x1b[2J": false,
		"http://[::1%;reboot]:8370": false,
	} {
		folder := t.TempDir()
		end := local.Serve(folder, local.NewHandler(said), slog.New(slog.DiscardHandler))
		page, err := local.Page(t.Context(), folder)
		end()
		if got := err == nil && page == said; got != want {
			t.Errorf("where it says %q: Page = %q, %v, want it handed on: %v", said, page, err, want)
		}
	}
}

func TestNobodyServes(t *testing.T) {
	folder := t.TempDir()
	if err := local.Ask(t.Context(), folder, http.MethodGet, "/check", nil); !errors.Is(err, local.ErrNotServing) {
		t.Errorf("Ask where nobody serves: %v, want ErrNotServing", err)
	}
	giveBack, err := local.Borrow(t.Context(), folder)
	if err != nil {
		t.Fatalf("Borrow where nobody serves: %v, want nothing to do", err)
	}
	giveBack()
}

func TestARefusalIsTheServersSentence(t *testing.T) {
	h, folder := serve(t)
	h.Use(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.WriteHeader(http.StatusServiceUnavailable)
		io.WriteString(w, `{"error": {"code": "disk-full", "message": "The disk is full."}}`)
	}))
	err := local.Ask(t.Context(), folder, http.MethodPost, "/backup", nil)
	if err == nil || err.Error() != "The disk is full" {
		t.Errorf("Ask = %v, want the server's sentence", err)
	}
}

// A store is lent when the command before is answered, and to one at a time; whoever
// asks meanwhile is answered by the store that is open after.
func TestAStoreIsLentToOneAtATime(t *testing.T) {
	h, folder := serve(t)
	working, finish := make(chan struct{}), make(chan struct{})
	h.Use(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		close(working)
		<-finish
		says("first").ServeHTTP(w, r)
	}))
	var first struct{ Name string }
	answered := make(chan error, 1)
	go func() { answered <- local.Ask(t.Context(), folder, http.MethodGet, "/check", &first) }()
	<-working
	one, two := borrow(t.Context(), folder), borrow(t.Context(), folder)
	select {
	case <-h.Releases():
		t.Fatal("the store is asked for while a command works on it")
	default:
	}
	close(finish)
	if err := <-answered; err != nil || first.Name != "first" {
		t.Errorf("the command before: %q, %v, want it answered", first.Name, err)
	}
	for _, next := range []string{"second", "third"} {
		r := <-h.Releases()
		r.Grant()
		<-r.Over()
		h.Use(says(next))
	}
	for _, failed := range []<-chan error{one, two} {
		if err := <-failed; err != nil {
			t.Errorf("Borrow: %v", err)
		}
	}
	ask(t, folder, "third")
}

// One that is killed while it waits, or while it has the store, leaves the store to the
// next.
func TestABorrowerThatIsKilledLetsTheServerGoOn(t *testing.T) {
	h, folder := serve(t)
	ctx, kill := context.WithCancel(t.Context())
	waits := borrow(ctx, folder) // no store is open yet
	kill()
	if err := <-waits; !errors.Is(err, context.Canceled) {
		t.Errorf("Borrow: %v, want that it was canceled", err)
	}
	h.Use(says("first"))
	ask(t, folder, "first")

	ctx, kill = context.WithCancel(t.Context())
	asked := borrow(ctx, folder)
	r := <-h.Releases()
	kill()
	<-r.Over()
	if err := <-asked; !errors.Is(err, context.Canceled) {
		t.Errorf("Borrow: %v, want that it was canceled", err)
	}
	r.Grant()
	h.Use(says("second"))
	ask(t, folder, "second")

	ctx, kill = context.WithCancel(t.Context())
	unheard := borrow(ctx, folder) // the server is busy and does not hear of it
	kill()
	<-unheard
	ask(t, folder, "second")
}

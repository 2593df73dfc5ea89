package local

import (
	"encoding/json"
	"net/http"
)

// A Handler answers the other commands by the store that is open, one after the other.
// While no store is open, they wait.
type Handler struct {
	// open holds the handler of the open store, for one to take out and put back. A wait
	// for it ends with the request, as a wait for a lock could not.
	open     chan http.Handler
	releases chan Release
	page     string
}

// NewHandler is one that makes all wait until Use. page is the address of the first page.
func NewHandler(page string) *Handler {
	return &Handler{open: make(chan http.Handler, 1), releases: make(chan Release), page: page}
}

// Use has next answer from now on. It is for after the start and after each
// Release.
func (h *Handler) Use(next http.Handler) { h.open <- next }

// A Release is a command that waits for the server to close its store.
type Release struct {
	granted chan struct{}
	over    <-chan struct{}
}

// Releases brings them one by one. From then on no command is answered until Use.
func (h *Handler) Releases() <-chan Release { return h.releases }

// Grant tells the command that the store is closed.
func (r Release) Grant() { close(r.granted) }

// Over is closed when the command is done with the store, or is gone.
func (r Release) Over() <-chan struct{} { return r.over }

func (h *Handler) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.URL.Path == "/page" {
		json.NewEncoder(w).Encode(pageReply{h.page})
		return
	}
	var open http.Handler
	select {
	case open = <-h.open:
	case <-r.Context().Done():
		return
	}
	if r.URL.Path == "/release" {
		h.release(w, r, open)
		return
	}
	defer h.Use(open)
	if r.URL.Path != "/serving" {
		open.ServeHTTP(w, r)
	}
}

// release has taken open out, so no other command uses the store. The server puts the
// next one in; where the asker gave up before the server heard of it, release puts open
// back.
func (h *Handler) release(w http.ResponseWriter, r *http.Request, open http.Handler) {
	asked := Release{granted: make(chan struct{}), over: r.Context().Done()}
	select {
	case h.releases <- asked:
	case <-asked.over:
		h.Use(open)
		return
	}
	select {
	case <-asked.granted:
	case <-asked.over:
		return
	}
	w.WriteHeader(http.StatusOK)
	if http.NewResponseController(w).Flush() == nil {
		<-asked.over
	}
}

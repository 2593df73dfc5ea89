package main

import (
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A server is killed, and another user of this computer takes the port that it left in its
// file. The commands do not tell the word to that one and believe nothing that it says.
func TestAStrangerAtTheLeftPortIsNotBelieved(t *testing.T) {
	data, theirs := t.TempDir(), t.TempDir()
	other := start(t, theirs, "--demo")
	other.stop(syscall.SIGTERM)
	s := start(t, data)
	left, err := os.ReadFile(filepath.Join(data, "cornerwise.serving"))
	if err != nil {
		t.Fatal(err)
	}
	address, word, _ := strings.Cut(string(left), " ")
	s.cmd.Process.Kill()
	s.cmd.Wait()

	listener, err := net.Listen("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	var heard bytes.Buffer
	stranger := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Write(&heard)
		w.Header().Set("Cornerwise-Proof", r.Header.Get("Authorization"))
		fmt.Fprintf(w, `{"path": %q, "report": {}}`, filepath.Join(theirs, "cornerwise.db"))
	})}
	served := make(chan struct{})
	go func() {
		defer close(served)
		stranger.Serve(listener)
	}()
	copied := filepath.Join(t.TempDir(), "copy.db")
	code, out, errs := once(nil, "backup", "--data", data, copied)
	if code != 0 || !strings.Contains(out, "0 sessions") {
		t.Errorf("backup: exit %d, %q, %q, want the store's own, which has no session", code, out, errs)
	}
	if code, out, errs := once(nil, "check", "--data", data); code != 0 || !strings.Contains(out, "is sound: 0 sessions") {
		t.Errorf("check: exit %d, %q, %q, want the store's own", code, out, errs)
	}
	stranger.Close()
	<-served
	if !strings.Contains(heard.String(), "Authorization") || strings.Contains(heard.String(), word) {
		t.Errorf("the stranger heard %q, want a request without the word", heard.String())
	}
	// And it can't ask: not without a proof, and not with one for another request.
	again := start(t, data)
	left, _ = os.ReadFile(filepath.Join(data, "cornerwise.serving"))
	address, _, _ = strings.Cut(string(left), " ")
	for _, claim := range []string{"", "x", "nonce ", " ", word} {
		req, _ := http.NewRequest("POST", "http://"+address+"/backup", nil)
		req.Header.Set("Authorization", claim)
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		io.Copy(io.Discard, res.Body)
		res.Body.Close()
		if res.StatusCode != 401 || res.Header.Get("Cornerwise-Proof") != "" {
			t.Errorf("a request with the claim %q: got %d, want 401 and no proof", claim, res.StatusCode)
		}
	}
	again.stop(syscall.SIGTERM)
}

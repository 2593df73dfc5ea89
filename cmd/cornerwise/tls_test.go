package main

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// noFollow is a client that trusts what it is given, and follows nothing.
func noFollow(roots *x509.CertPool) *http.Client {
	jar, _ := cookiejar.New(nil)
	return &http.Client{Jar: jar, Timeout: 10 * time.Second,
		Transport:     &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
}

func fetch(t *testing.T, client *http.Client, method, url, origin, body string) (*http.Response, string) {
	t.Helper()
	req, err := http.NewRequest(method, url, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if origin != "" {
		req.Header.Set("Origin", origin)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	res, err := client.Do(req)
	if err != nil {
		t.Fatalf("%s %s: %v", method, url, err)
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res, string(data)
}

func TestWithTLSOthersComeByHTTPS(t *testing.T) {
	data := t.TempDir()
	s, there := lan(t, "--data", data, "--tls", "--demo")
	open := strings.Replace(there, "https:", "http:", 1)
	if !strings.HasPrefix(there, "https://") || !strings.Contains(s.words, open+"/trust") {
		t.Fatalf("at the start: got %q, want https addresses and the page about trust", s.words)
	}

	// In the open there is what a device needs to trust, and nothing else.
	plain := noFollow(nil)
	for path, want := range map[string]int{"/": 303, "/pair": 303, "/new": 303, "/devices": 303, "/api/v1/sessions": 403,
		"/trust": 200, "/authority.crt": 200, "/static/plain.css": 200, "/healthz": 200} {
		res, _ := fetch(t, plain, "GET", open+path, "", "")
		if res.StatusCode != want || want == 303 && res.Header.Get("Location") != "/trust" {
			t.Errorf("GET %s in the open: got %d to %q, want %d", path, res.StatusCode, res.Header.Get("Location"), want)
		}
	}
	if res, _ := fetch(t, plain, "POST", open+"/pair", open, "code=1"); res.StatusCode != 303 {
		t.Errorf("POST /pair in the open: got %d, want 303 to the page about trust", res.StatusCode)
	}
	if status, err := s.call("GET", "/api/v1/sessions", "", nil); status != 200 {
		t.Errorf("this computer by http: got %d %v, want 200", status, err)
	}

	_, der := fetch(t, plain, "GET", open+"/authority.crt", "", "")
	cert, err := x509.ParseCertificate([]byte(der))
	if err != nil {
		t.Fatal(err)
	}
	_, page := fetch(t, plain, "GET", open+"/trust", "", "")
	if found := regexp.MustCompile(`(?m)^([0-9A-F]{2} ){31}[0-9A-F]{2}$`).FindString(s.words); found == "" || !strings.Contains(page, found) {
		t.Errorf("the fingerprint %q at the start is not on the page about trust", found)
	}
	if found := regexp.MustCompile(`(?i)<style|\sstyle=|\son[a-z]+=|javascript:`).FindString(page); found != "" {
		t.Errorf("the page about trust holds %q, which its policy forbids", found)
	}
	if _, err := noFollow(nil).Get(there + "/"); err == nil {
		t.Errorf("by https without the authority: served, want a client that does not trust it")
	}
	roots := x509.NewCertPool()
	roots.AddCert(cert)
	sealed := noFollow(roots)
	if res, _ := fetch(t, sealed, "GET", there+"/", "", ""); res.StatusCode != 303 || res.Header.Get("Location") != "/pair" || res.TLS.Version < tls.VersionTLS12 {
		t.Errorf("GET / by https: got %d to %q with %x, want 303 to /pair", res.StatusCode, res.Header.Get("Location"), res.TLS.Version)
	}
	code := regexp.MustCompile(`code (\d{4} \d{4})\.`).FindStringSubmatch(s.words)[1]
	form := url.Values{"code": {code}}.Encode()
	// A page of the same host that came in the open was written by who knows whom.
	if res, _ := fetch(t, sealed, "POST", there+"/pair", open, form); res.StatusCode != 403 {
		t.Errorf("POST /pair from a page in the open: got %d, want 403", res.StatusCode)
	}
	res, _ := fetch(t, sealed, "POST", there+"/pair", there, form)
	if cookies := res.Cookies(); res.StatusCode != 303 || len(cookies) != 1 || !cookies[0].Secure || !strings.HasPrefix(cookies[0].Name, "__Host-") || !cookies[0].HttpOnly {
		t.Fatalf("POST /pair by https: got %d and %v, want a secure cookie", res.StatusCode, cookies)
	}
	res, _ = fetch(t, sealed, "GET", there+"/", "", "")
	if csp := res.Header.Get("Content-Security-Policy"); res.StatusCode != 200 || !strings.Contains(csp, " wss://") || strings.Contains(csp, " ws://") {
		t.Errorf("GET / paired: got %d and %q, want 200 and wss", res.StatusCode, csp)
	}
	id := regexp.MustCompile(`/s/(\w+)`).FindStringSubmatch(s.words)[1]
	dialer := websocket.Dialer{TLSClientConfig: &tls.Config{RootCAs: roots}, Jar: sealed.Jar}
	conn, _, err := dialer.Dial(strings.Replace(there, "https", "wss", 1)+"/api/v1/sessions/"+id+"/live", http.Header{"Origin": {there}})
	if err != nil {
		t.Fatalf("the live connection: %v", err)
	}
	defer conn.Close()
	if _, message, err := conn.ReadMessage(); err != nil || !strings.Contains(string(message), `"rev":1`) {
		t.Errorf("the live connection: got %.80s %v, want the state", message, err)
	}

	// Someone else's eye: OpenSSL.
	if _, err := exec.LookPath("openssl"); err == nil {
		file := filepath.Join(t.TempDir(), "a.pem")
		os.WriteFile(file, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: cert.Raw}), 0o600)
		host, port, _ := net.SplitHostPort(strings.TrimPrefix(there, "https://"))
		out, err := exec.Command("openssl", "s_client", "-connect", net.JoinHostPort(host, port), "-CAfile", file,
			"-verify_ip", host, "-verify_return_error", "-x509_strict").CombinedOutput()
		if err != nil || !strings.Contains(string(out), "Verification: OK") {
			t.Errorf("openssl s_client: %v %s", err, out)
		}
	}
	if took := s.stop(syscall.SIGTERM); took > 2*time.Second {
		t.Errorf("the stop took %v, want 2 s at most", took)
	}

	// The authority stays, and its key is for the owner's eyes.
	if info, err := os.Stat(filepath.Join(data, "authority.key")); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the key: got %v %v, want it for its owner only", info, err)
	}
	again, _ := lan(t, "--data", data, "--tls")
	if _, der2 := fetch(t, plain, "GET", again.url+"/authority.crt", "", ""); der2 != der {
		t.Errorf("after a second start the authority is another")
	}
}

func TestWithoutTLSThereIsNoAuthority(t *testing.T) {
	data := t.TempDir()
	s := start(t, data)
	for _, path := range []string{"/trust", "/authority.crt"} {
		if status, _ := s.call("GET", path, "", nil); status != 404 {
			t.Errorf("GET %s: got %d, want 404", path, status)
		}
	}
	if _, err := os.Stat(filepath.Join(data, "authority.key")); err == nil {
		t.Errorf("an authority was made, which no one asked for")
	}
}

package main

import (
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/netip"
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
	if info, err := os.Stat(filepath.Join(data, authorityKey)); err != nil || info.Mode().Perm() != 0o600 {
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
	if _, err := os.Stat(filepath.Join(data, authorityKey)); err == nil {
		t.Errorf("an authority was made, which no one asked for")
	}
}

var noon = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// Stolen, the authority's key opens no bank: whoever checks RFC 5280, 4.2.1.10 refuses it.
func TestTheAuthoritySpeaksForHomeOnly(t *testing.T) {
	own := []netip.Addr{netip.MustParseAddr("192.168.7.2"), netip.MustParseAddr("203.0.113.9")}
	a, err := openAuthority(t.TempDir(), noon, own)
	if err != nil {
		t.Fatal(err)
	}
	roots := x509.NewCertPool()
	roots.AddCert(a.cert)
	for host, want := range map[string]bool{
		"cornerwise.local": true, "localhost": true, "192.168.7.2": true, "10.1.2.3": true, "fd00::7": true, "203.0.113.9": true,
		"bank.example": false, "local.example": false, "203.0.113.10": false, "2001:db8::1": false, "8.8.8.8": false,
	} {
		form := &x509.Certificate{SerialNumber: serial(), NotBefore: noon, NotAfter: noon.Add(time.Hour), ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}}
		if ip := net.ParseIP(host); ip != nil {
			form.IPAddresses = []net.IP{ip}
		} else {
			form.DNSNames = []string{host}
		}
		der, err := x509.CreateCertificate(rand.Reader, form, a.cert, &a.key.PublicKey, a.key)
		if err != nil {
			t.Fatal(err)
		}
		leaf, _ := x509.ParseCertificate(der)
		_, err = leaf.Verify(x509.VerifyOptions{Roots: roots, DNSName: host, CurrentTime: noon.Add(time.Minute)})
		if (err == nil) != want {
			t.Errorf("a certificate for %s: %v, want it good: %v", host, err, want)
		}
	}
}

// Tablets take 825 days at most for an authority that was added by hand.
func TestTheCertificateFollowsTheAddressesAndTheTime(t *testing.T) {
	addr := netip.MustParseAddr
	a, err := openAuthority(t.TempDir(), noon, nil)
	if err != nil {
		t.Fatal(err)
	}
	get := func(after time.Duration, own ...netip.Addr) *x509.Certificate {
		c, err := a.certificate(noon.Add(after), "cornerwise.local", own)
		if err != nil {
			t.Fatal(err)
		}
		return c.Leaf
	}
	first := get(0, addr("192.168.7.2"), addr("8.8.8.8"))
	if err := first.VerifyHostname("192.168.7.2"); err != nil {
		t.Error(err)
	}
	if first.VerifyHostname("8.8.8.8") == nil {
		t.Errorf("the certificate is for an address that the authority may not speak for: the whole of it would be refused")
	}
	if lasts := first.NotAfter.Sub(first.NotBefore); lasts > 825*24*time.Hour {
		t.Errorf("the certificate lasts %v, want 825 days at most", lasts)
	}
	if get(50*24*time.Hour, addr("192.168.7.2")) != first {
		t.Errorf("50 days later: another certificate, want the same")
	}
	if moved := get(0, addr("192.168.9.9")); moved.VerifyHostname("192.168.9.9") != nil {
		t.Errorf("at another address: got %v, want one for it", moved.IPAddresses)
	}
	if later := get(61*24*time.Hour, addr("192.168.9.9")); later.NotAfter.Before(noon.Add(100 * 24 * time.Hour)) {
		t.Errorf("61 days later: it ends %v, want a new one", later.NotAfter)
	}
}

func TestAnAuthorityThatCanNotBeUsed(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(folder string)
		now   time.Time
		says  string
	}{
		{"no key", func(f string) { os.Remove(filepath.Join(f, authorityKey)) }, noon, "can't be read"},
		{"no certificate", func(f string) { os.Remove(filepath.Join(f, authorityCert)) }, noon, "can't be read"},
		{"rubbish", func(f string) { os.WriteFile(filepath.Join(f, authorityCert), []byte("quilt"), 0o600) }, noon, "is not PEM"},
		{"another's key", func(f string) {
			other := f + "-other"
			os.Mkdir(other, 0o700)
			openAuthority(other, noon, nil)
			os.Rename(filepath.Join(other, authorityKey), filepath.Join(f, authorityKey))
		}, noon, "strangers"},
		{"its ten years over", func(string) {}, noon.AddDate(11, 0, 0), "ended on 1 March 2036"},
	} {
		folder := filepath.Join(t.TempDir(), "data")
		os.Mkdir(folder, 0o700)
		if _, err := openAuthority(folder, noon, nil); err != nil {
			t.Fatal(err)
		}
		c.spoil(folder)
		if _, err := openAuthority(folder, c.now, nil); err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "Move authority.crt") {
			t.Errorf("%s: got %v, want %q and what to do", c.name, err, c.says)
		}
	}
}

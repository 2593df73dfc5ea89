package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/netip"
	"strings"
	"testing"
)

// Whatever a stranger writes into a request: the door answers, lets only known
// hosts further, and lets nothing be written into its headers.
func FuzzTheDoor(f *testing.F) {
	for _, host := range []string{"localhost", "127.0.0.1:8370", "[::1]:80", "[fe80::1%25x]:1", "cornerwise.local", "evil.example", "", ":", "[", "1.2.3.4:5:6", "localhost:", "LOCALHOST.", "0x7f.1", "127.1"} {
		f.Add("GET", "/", host, "http://"+host, "cornerwise-device=x", "192.168.7.20:1", "")
	}
	f.Add("POST", "/pair", hers, "http://"+hers, "", "192.168.7.20:1", "code=1&token=%00")
	f.Add("POST", "/api/v1/sessions/x/ops", "localhost", "null", "=;,", "127.0.0.1:1", "{}")
	f.Add("GET", "/api/v1/sessions/x/live", "localhost", "", "", "[::1]:1", "")
	f.Add("DELETE", "/devices/../forget", hers, "", "cornerwise-device=\"", "nowhere", "")
	h := openHouse(f)
	h.web.Name = "cornerwise.local"
	handler := h.web.Handler()
	f.Fuzz(func(t *testing.T, method, path, host, origin, cookie, remote, body string) {
		req, err := http.NewRequest(method, "/", strings.NewReader(body))
		if err != nil {
			t.Skip() // net/http would not have read it either
		}
		req.URL.Path = "/" + strings.TrimPrefix(path, "/")
		req.Host, req.RemoteAddr = host, remote
		req.Header = http.Header{"Origin": {origin}, "Cookie": {cookie}, "Content-Type": {"application/x-www-form-urlencoded"}}
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, req)
		if w.Code >= 500 {
			t.Fatalf("%q %q from %q to %q: got %d %s, want no 5xx", method, path, remote, host, w.Code, w.Body)
		}
		csp := w.Header().Get("Content-Security-Policy")
		if strings.Count(csp, ";") != 11 || strings.ContainsAny(csp, "*\r\n,") || strings.Contains(csp, "unsafe") {
			t.Errorf("host %q: got the policy %q, want nothing of it changed", host, csp)
		}
		if w.Code == http.StatusMisdirectedRequest {
			return
		}
		// Another way to tell what is known: as it stands, or between brackets, or
		// before the last colon.
		name := host
		if at := strings.LastIndex(host, ":"); at >= 0 && strings.Trim(host[at+1:], "0123456789") == "" && !strings.HasSuffix(host, ":") {
			if _, err := netip.ParseAddr(host); err != nil {
				name = host[:at]
			}
		}
		name = strings.TrimSuffix(strings.TrimPrefix(strings.ToLower(name), "["), "]")
		addr, err := netip.ParseAddr(name)
		if name != "localhost" && name != "cornerwise.local" && (err != nil || addr.Zone() != "") {
			t.Errorf("host %q: got %d, want 421", host, w.Code)
		}
		local := name == "localhost" || err == nil && addr.Unmap().IsLoopback()
		if from, err := netip.ParseAddrPort(remote); (err != nil || !from.Addr().Unmap().IsLoopback() || !local) &&
			strings.HasPrefix(req.URL.Path, "/api/") && w.Code != 401 && w.Code != 403 {
			t.Errorf("%q %q from %q to %q, not paired: got %d, want 401 or 403", method, path, remote, host, w.Code)
		}
	})
}

package web_test

import (
	"context"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"cornerwise/session/web"
)

// The page of devices tells what may keep a device out, with the firewall's own words.
func TestTheDevicesPageTellsWhyNobodyComes(t *testing.T) {
	h := openHouse(t)
	networked := func() []string { return []string{"http://192.168.7.2:8371"} }
	for _, c := range []struct {
		name      string
		onlyHere  bool
		system    string
		addresses func() []string
		has, not  []string
	}{
		{"on Windows", false, "windows", networked,
			[]string{"No other device has come yet?", "Windows Defender Firewall", "“Private networks”", "“Allow access”", ":8371", "guest network"}, nil},
		{"on a Mac", false, "darwin", networked, []string{"“accept incoming network connections”", "“Allow”"}, []string{"Windows"}},
		{"on Linux", false, "linux", networked, []string{"sudo ufw allow 8371/tcp", "--add-port=8371/tcp"}, []string{"Windows"}},
		{"in no network", false, "windows", nil, []string{"it is in no network. Join it to your Wi-Fi"}, []string{"firewall", "come yet"}},
		{"kept to itself", true, "windows", nil, []string{"it was started with --listen, which keeps it to itself"}, []string{"Wi-Fi", "come yet"}},
	} {
		s := &web.Server{Store: h.store, Devices: h.web.Devices, System: c.system, OnlyHere: c.onlyHere, Addresses: c.addresses}
		handler := s.Handler()
		page := words([]byte(devicesPage(t, handler)))
		for _, want := range c.has {
			if !strings.Contains(page, want) {
				t.Errorf("%s: the page says %q, want %q", c.name, page, want)
			}
		}
		for _, bad := range c.not {
			if strings.Contains(page, bad) {
				t.Errorf("%s: the page says %q, want no %q", c.name, page, bad)
			}
		}
	}
}

// Once another device has come, paired or not, that is not asked any more; this computer by its
// own address is none.
func TestWhoComesIsNoticed(t *testing.T) {
	h := openHouse(t)
	s := &web.Server{Store: h.store, Devices: h.web.Devices, Addresses: func() []string { return []string{"http://192.168.7.2:8370"} }}
	handler := s.Handler()
	come := func(from string) {
		r := httptest.NewRequest("GET", "/pair", nil)
		r.RemoteAddr, r.Host = from+":50000", "192.168.7.2:8370"
		here := &net.TCPAddr{IP: net.ParseIP("192.168.7.2"), Port: 8370}
		r = r.WithContext(context.WithValue(r.Context(), http.LocalAddrContextKey, here))
		handler.ServeHTTP(httptest.NewRecorder(), r)
	}
	const none, some = "No other device has come yet?", "A device does not get here?"
	come("192.168.7.2")
	if page := devicesPage(t, handler); !strings.Contains(page, none) {
		t.Errorf("after this computer came by its own address: want %q", none)
	}
	come("192.168.7.20")
	if page := devicesPage(t, handler); strings.Contains(page, none) || !strings.Contains(page, some) {
		t.Errorf("after a tablet came: want %q", some)
	}
}

// The first page tells this computer by which address others come, and asks where none does.
func TestTheFirstPageTellsHowOthersCome(t *testing.T) {
	h := openHouse(t)
	for _, c := range []struct {
		name      string
		addresses []string
		want      string
	}{
		{"at another port", []string{"http://192.168.7.2:8371"}, "Other devices come by http://192.168.7.2:8371 . None has come yet?"},
		{"in three networks", []string{"http://192.168.7.2:8370", "http://10.0.0.2:8370", "http://[fd00::2]:8370"}, "Other devices come by http://192.168.7.2:8370"},
		{"with IPv6 only", []string{"http://[fd00::2]:8370"}, "Other devices come by http://[fd00::2]:8370"},
		{"in no network", nil, "No other device can reach this computer. See why"},
	} {
		s := &web.Server{Store: h.store, Devices: h.web.Devices, Addresses: func() []string { return c.addresses }}
		if page := words([]byte(ownPage(t, s.Handler(), "/"))); !strings.Contains(page, c.want) {
			t.Errorf("%s: the first page says %q, want %q", c.name, page, c.want)
		}
	}
}

// devicesPage is the page as this computer gets it.
func devicesPage(t *testing.T, handler http.Handler) string {
	t.Helper()
	return ownPage(t, handler, "/devices")
}

func ownPage(t *testing.T, handler http.Handler, path string) string {
	t.Helper()
	r := httptest.NewRequest("GET", path, nil)
	r.RemoteAddr, r.Host = "127.0.0.1:50000", "127.0.0.1:8370"
	w := httptest.NewRecorder()
	handler.ServeHTTP(w, r)
	if w.Code != http.StatusOK {
		t.Fatalf("GET %s: %d %s", path, w.Code, w.Body)
	}
	return w.Body.String()
}

package web

import (
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"runtime"
)

// A reachView is what may keep other devices from this computer, and what to look at.
type reachView struct {
	OnlyHere bool // it was asked to listen on this computer only
	Came     bool // another device has come, now or before
	Firewall []string
	Port     string
}

func (s *Server) reach(addresses []string) reachView {
	v := reachView{OnlyHere: s.OnlyHere, Came: s.came.Load() || len(s.Devices.List()) > 0}
	for _, address := range addresses {
		if at, err := url.Parse(address); err == nil && v.Port == "" {
			v.Port = at.Port()
		}
	}
	system := s.System
	if system == "" {
		system = runtime.GOOS
	}
	v.Firewall = append(v.Firewall, FirewallAsks(system)...)
	v.Firewall = append(v.Firewall, firewallLater(system, v.Port)...)
	return v
}

// FirewallAsks is what to choose when the firewall of a system (as runtime.GOOS names it) asks
// about this program; none where it asks nothing.
func FirewallAsks(system string) []string {
	switch system {
	case "windows":
		return []string{"When Windows Defender Firewall asks about cornerwise, check “Private networks” " +
			"and choose “Allow access” (newer ones say “Allow”)."}
	case "darwin":
		return []string{"When the Mac asks whether cornerwise may “accept incoming network connections”, " +
			"choose “Allow”."}
	}
	return nil
}

// firewallLater is what to do about it afterwards.
func firewallLater(system, port string) []string {
	switch system {
	case "windows":
		return []string{
			"Was it canceled? In Settings open Privacy & security, Windows Security, Firewall & network " +
				"protection, “Allow an app through firewall”. Choose “Change settings”, and check " +
				"cornerwise and beside it Private.",
			"Windows must take the network for your own: in Settings open Network & internet, then the " +
				"properties of the network, and choose “Private network”."}
	case "darwin":
		return []string{"Was it “Deny”? In System Settings open Network, Firewall, Options, and set " +
			"cornerwise to “Allow incoming connections”."}
	}
	return []string{"Where a firewall runs, let in TCP port " + port + ": with ufw by sudo ufw allow " + port +
		"/tcp; with firewalld by sudo firewall-cmd --permanent --add-port=" + port +
		"/tcp, and then sudo firewall-cmd --reload."}
}

// fromElsewhere tells a request of another device from one of this computer, which may also come
// by an address of its network.
func fromElsewhere(r *http.Request) bool {
	from := remoteOf(r).Unmap()
	to, _ := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if to != nil {
		if at, err := netip.ParseAddrPort(to.String()); err == nil && at.Addr().Unmap() == from {
			return false
		}
	}
	return from.IsValid() && !from.IsLoopback()
}

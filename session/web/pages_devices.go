package web

import (
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"github.com/go-chi/chi/v5"

	"cornerwise/session"
)

// A devicesView is the owner's page: how the next device comes in, and who is in.
type devicesView struct {
	Offer    session.Offer
	Ways     []wayIn
	Devices  []session.Device
	Open     bool
	Named    string // an address by name, where one is announced
	Trust    string // the address of the page about trust, where there is an authority
	Switched string // the address of the page for the other kind of offer
}

// A wayIn is one address by which a device may come.
type wayIn struct {
	Address string // as it is typed
	Picture template.HTML
}

// Code is in two groups, which are easier to carry from one screen to the other.
func (v devicesView) Code() string { return Grouped(v.Offer.Code) }

// Grouped is a code as it is shown: 4821 0937.
func Grouped(code string) string { return code[:len(code)/2] + " " + code[len(code)/2:] }

// PairingAt is what a QR code says: the token stays in the fragment, which no
// browser sends.
func PairingAt(address, token string) string { return address + "/pair#" + token }

func (s *Server) devicesPage(w http.ResponseWriter, r *http.Request) {
	looks := r.URL.Query().Has("looks")
	v := devicesView{Offer: s.Devices.Offer(looks), Devices: s.Devices.List(), Open: s.Open,
		Switched: "/devices?looks"}
	if looks {
		v.Switched = "/devices"
	}
	for _, address := range s.Addresses() {
		if at, err := url.Parse(address); err == nil && s.Name != "" {
			v.Named = bare(at.Scheme + "://" + s.Name + ":" + at.Port())
		}
		if s.Authority != nil && v.Trust == "" {
			v.Trust = strings.Replace(address, "https:", "http:", 1) + "/trust"
		}
		p, err := newQRCode(PairingAt(address, v.Offer.Token))
		if err != nil {
			s.refuse(w, r, err)
			return
		}
		v.Ways = append(v.Ways, wayIn{bare(address), p.svg("QR code for " + address)})
	}
	s.show(w, r, http.StatusOK, "devices", v)
}

// bare is an address as it need be typed: browsers take it for http by themselves.
func bare(address string) string { return strings.TrimPrefix(address, "http://") }

func (s *Server) forgetDevice(w http.ResponseWriter, r *http.Request) {
	s.forgotten(w, r, s.Devices.Forget(r.Context(), chi.URLParam(r, "device")))
}

func (s *Server) forgetDevices(w http.ResponseWriter, r *http.Request) {
	s.forgotten(w, r, s.Devices.ForgetAll(r.Context()))
}

func (s *Server) forgotten(w http.ResponseWriter, r *http.Request, err error) {
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	http.Redirect(w, r, "/devices", http.StatusSeeOther)
}

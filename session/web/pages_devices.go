package web

import (
	"errors"
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
	One      string         // the title of the one quilt that it is for; "" for all
	Quilts   []session.Head // that it may be for
	Ways     []wayIn
	Devices  []deviceView
	Open     bool
	Named    string // an address by name, where one is announced
	Trust    string // the address of the page about trust, where there is an authority
	Switched string // the address of the page for an offer to look, or to tick too
	ForAll   string // and for one of every quilt
	Reach    reachView
	Here     hereView
	Version  string
}

// A deviceView is a device that was let in.
type deviceView struct {
	session.Device
	Sees string // the one quilt that it sees, in words; "" for all
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
	asked := r.URL.Query()
	may := session.Rights{Looks: asked.Has("looks"), Only: asked.Get("quilt")}
	offer, one, err := s.offerFor(may)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	quilts, _, err := s.Store.List(maxPage, "", false)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	v := devicesView{Offer: offer, One: one.Title, Quilts: quilts, Open: s.Open,
		Switched: devicesPath(session.Rights{Looks: !may.Looks, Only: may.Only}),
		ForAll:   devicesPath(session.Rights{Looks: may.Looks}), Version: s.Version}
	for _, d := range s.Devices.List() {
		v.Devices = append(v.Devices, deviceView{d, s.seenBy(d)})
	}
	addresses := s.Addresses()
	v.Reach, v.Here = s.reach(addresses), s.here()
	for _, address := range addresses {
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

// devicesPath is the address of the page with an offer of these rights.
func devicesPath(may session.Rights) string {
	asked := url.Values{}
	if may.Only != "" {
		asked.Set("quilt", may.Only)
	}
	if may.Looks {
		asked.Set("looks", "")
	}
	return strings.TrimSuffix("/devices?"+asked.Encode(), "?")
}

// seenBy is what a device of one quilt sees, in words; "" where it sees all.
func (s *Server) seenBy(d session.Device) string {
	if d.Only == "" {
		return ""
	}
	head, err := s.Store.Head(d.Only)
	switch {
	case errors.Is(err, session.ErrNotFound):
		return "sees only a quilt that is not here any more"
	case err != nil:
		return "sees only a quilt that can't be read now"
	case !head.Binned.IsZero():
		return "sees only " + head.Title + ", which is in the bin"
	}
	return "sees only " + head.Title
}

// bare is an address as it need be typed: browsers take it for http by themselves.
func bare(address string) string { return strings.TrimPrefix(address, "http://") }

func (s *Server) forgetDevice(w http.ResponseWriter, r *http.Request) {
	s.toDevices(w, r, s.Devices.Forget(r.Context(), chi.URLParam(r, "device")))
}

func (s *Server) forgetDevices(w http.ResponseWriter, r *http.Request) {
	s.toDevices(w, r, s.Devices.ForgetAll(r.Context()))
}

// toDevices leads back to the page of devices, once something was done there.
func (s *Server) toDevices(w http.ResponseWriter, r *http.Request, err error) {
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	http.Redirect(w, r, "/devices", http.StatusSeeOther)
}

package web

import (
	"html/template"
	"net/http"
)

// An opener makes the QR codes of a printed page. Each opens a page of one session on a device
// that may come in: it is an address, and no secret.
type opener struct{ at, session string }

// opener is for who asks: by the address that this one came by, where other devices come by it
// too; at the computer itself by the best one for others.
func (s *Server) opener(r *http.Request, session string) opener {
	if host, known := s.knownHost(r.Host); known && !host.loopback {
		scheme := "http://"
		if r.TLS != nil {
			scheme = "https://"
		}
		return opener{scheme + r.Host, session}
	}
	if all := s.Addresses(); len(all) > 0 {
		return opener{all[0], session}
	}
	return opener{}
}

// At is where the codes lead to, as it is typed; "" where no other device comes in.
func (o opener) At() string { return bare(o.at) }

// Code opens a page of the session; it is empty where no other device comes in.
func (o opener) Code(page string) (template.HTML, error) {
	if o.at == "" {
		return "", nil
	}
	address := o.at + "/s/" + o.session
	if page != "" {
		address += "/" + page
	}
	code, err := newQRCode(address)
	if err != nil {
		return "", err
	}
	return code.svg("QR code for " + bare(address)), nil
}

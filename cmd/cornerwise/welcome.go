package main

import (
	"fmt"
	"net/netip"
	"strings"

	"cornerwise/session"
	"cornerwise/session/web"
)

// welcome says in words where to go, and shows how the first device comes in. demo is the
// path of the demo session, "" for none.
func welcome(c config, e *endpoint, demo string, offer session.Offer) (string, error) {
	here, others := e.listens.Addr().Unmap(), e.others()
	if here.IsUnspecified() {
		here = netip.AddrFrom4([4]byte{127, 0, 0, 1})
	}
	var b strings.Builder
	first := e.url(here)
	fmt.Fprintf(&b, "Cornerwise is ready.\n\nOn this computer open    %s/\n", first)
	if demo != "" {
		fmt.Fprintf(&b, "The demo session is at   %s/%s\n", first, demo)
	}
	switch {
	case len(others) == 0 && c.open:
		b.WriteString("\nEvery device that reaches this address may open and change the sessions: --open\n" +
			"asks no one who they are.\n")
	case len(others) == 0:
		b.WriteString("\nNo other device can reach it: there is no network, or --listen keeps it to itself.\n")
	case c.open:
		b.WriteString("\nWARNING: --open asks no one who they are. Every device on the network may open\n" +
			"and change the sessions. Open there\n")
		for _, a := range others {
			fmt.Fprintf(&b, "                         %s/\n", a)
		}
	default:
		ways, err := invitation(web.NewOfferReply(offer, others), "")
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&b, "\n%s\nThe next ones come in by the page Devices, on this computer, "+
			"or by \"cornerwise pair\".\n--open asks no one who they are.\n", ways)
	}
	if e.name != "" && len(others) > 0 {
		fmt.Fprintf(&b, "Most devices find it by name too: %s://%s:%d/\n",
			e.scheme(), e.name, e.listens.Port())
	}
	if e.authority != nil && len(others) > 0 {
		fmt.Fprintf(&b, "\nA device that does not know this computer's certificate yet opens first\n"+
			"                         %s/trust\nThe certificate's SHA-256 fingerprint is\n%s\n",
			strings.Replace(others[0], "https:", "http:", 1), web.Fingerprint(e.authority.DER()))
	}
	fmt.Fprintf(&b, "\nThe sessions are kept in %s\nCtrl-C stops it.\n", c.data)
	return b.String(), nil
}

package main

import (
	"fmt"
	"runtime"
	"strings"
	"unicode/utf8"

	"cornerwise/session"
	"cornerwise/session/web"
)

// welcome says in words where to go, and shows how the first device comes in. demo is the
// path of the demo session, "" for none.
func welcome(c config, e *endpoint, demo string, devices *session.Devices) (string, error) {
	others := e.others()
	var b strings.Builder
	b.WriteString("Cornerwise is ready.\n")
	switch {
	case len(others) == 0 && c.open:
		b.WriteString("\nEvery device that reaches this address may open and change the sessions: --open\n" +
			"asks no one who they are.\n")
	case len(others) == 0 && e.listens.Addr().Unmap().IsLoopback():
		b.WriteString("\nNo other device can reach it: --listen keeps it to this computer.\n")
	case len(others) == 0:
		b.WriteString("\nNo other device can reach it: this computer is in no network. Join it to your Wi-Fi,\n" +
			"or put in its cable; the page Devices then shows how a tablet comes in.\n")
	case c.open:
		b.WriteString("\nWARNING: --open asks no one who they are. Every device on the network may open\n" +
			"and change the sessions. Open there\n")
		for _, a := range others {
			fmt.Fprintf(&b, "                         %s/\n", a)
		}
	default:
		ways, err := invitation(web.NewOfferReply(devices.Offer(session.Rights{}), others), "")
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&b, "\n%sThe next ones come in by the page Devices, on this computer, or by\n"+
			"\"cornerwise pair\".\n", ways)
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
	if asks := web.FirewallAsks(runtime.GOOS); len(others) > 0 && len(devices.List()) == 0 && len(asks) > 0 {
		fmt.Fprintf(&b, "\n%s\n", wrapped(strings.Join(asks, " "), 80))
	}
	// Last, as a small window shows no more.
	fmt.Fprintf(&b, "\nOn this computer open    %s/\n", e.here())
	if port := e.listens.Port(); c.anyPort() && port != usualPort {
		said := fmt.Sprintf("%s has the port %d, so it is %d this time.", who(), usualPort, port)
		b.WriteString(wrapped(said, 80) + "\n")
	}
	if demo != "" {
		fmt.Fprintf(&b, "The demo session is at   %s/%s\n", e.here(), demo)
	}
	fmt.Fprintf(&b, "The sessions are kept in %s\n"+
		"Ctrl-C stops it, and so does closing this window. What was ticked is kept.\n", c.data)
	return b.String(), nil
}

// wrapped is a text in lines of at most so many characters, as long as its words allow.
func wrapped(text string, most int) string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && utf8.RuneCountInString(line+" "+word) > most {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	return strings.Join(append(lines, line), "\n")
}

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strings"

	"cornerwise/session"
	"cornerwise/session/web"
)

// A running Cornerwise serves on this computer; host and port by which it takes us for the
// owner.
type running string

// runningAt is the one that listens there.
func runningAt(listen string) (running, error) {
	host, port, err := net.SplitHostPort(listen)
	if err != nil {
		return "", fmt.Errorf("read --listen: %w", err)
	}
	// Only a request by loopback is the owner's.
	if addr, err := netip.ParseAddr(host); err != nil || !addr.IsLoopback() {
		host = "127.0.0.1"
	}
	return running(net.JoinHostPort(host, port)), nil
}

// offer has it make an offer for one device.
func (at running) offer(ctx context.Context, asked web.OfferRequest) (offer web.OfferReply, err error) {
	body, err := json.Marshal(asked)
	if err != nil {
		return offer, fmt.Errorf("ask for a code: %w", err)
	}
	err = at.ask(ctx, http.MethodPost, "/api/v1/offers", body, http.StatusCreated, &offer)
	if err == nil && offer.Session != asked.Session {
		err = fmt.Errorf("what answers at %s is an older Cornerwise, whose code would let in to every "+
			"quilt. It is not shown; stop that one and start this", at)
	}
	return offer, err
}

// quilt is the one that a person means by its title or its id. An error says which there are.
func (at running) quilt(ctx context.Context, meant string) (session.Head, error) {
	var all, found []session.Head
	for next := ""; ; {
		var page struct {
			Sessions []session.Head `json:"sessions"`
			Next     string         `json:"next"`
		}
		err := at.ask(ctx, http.MethodGet, "/api/v1/sessions?limit=200&after="+next, nil, http.StatusOK, &page)
		if err != nil {
			return session.Head{}, err
		}
		all = append(all, page.Sessions...)
		if next = page.Next; next == "" {
			break
		}
	}
	for _, h := range all {
		switch {
		case h.ID == meant:
			return h, nil
		case strings.EqualFold(strings.TrimSpace(h.Title), strings.TrimSpace(meant)):
			found = append(found, h)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return session.Head{}, fmt.Errorf("%d quilts are called %q. Say which by its id, which its "+
			"address ends with: %s", len(found), meant, named(found))
	case len(all) == 0:
		return session.Head{}, fmt.Errorf("no quilt is called %q: there is none here yet", meant)
	}
	return session.Head{}, fmt.Errorf("no quilt is called %q. There are: %s", meant, named(all))
}

// named are quilts by title and id, the last touched first.
func named(heads []session.Head) string {
	const most = 20
	var all []string
	for i, h := range heads {
		if i == most {
			all = append(all, fmt.Sprintf("and %d more", len(heads)-most))
			break
		}
		all = append(all, fmt.Sprintf("%q (%s)", h.Title, h.ID))
	}
	return strings.Join(all, ", ")
}

// ask puts into reply what it says to a request, where it says it with that status.
func (at running) ask(ctx context.Context, method, path string, body []byte, status int, reply any) error {
	req, err := http.NewRequestWithContext(ctx, method, "http://"+string(at)+path, bytes.NewReader(body))
	if err != nil {
		return fmt.Errorf("ask for a code: %w", err)
	}
	req.Header.Set("Content-Type", "application/json")
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return fmt.Errorf("no Cornerwise answers at %s on this computer. "+
			"Start it, or say with --listen where it listens", at)
	}
	defer res.Body.Close()
	err = json.NewDecoder(io.LimitReader(res.Body, 1<<20)).Decode(reply)
	if err != nil || res.StatusCode != status {
		return fmt.Errorf("what answers at %s is no Cornerwise that knows of pairing (status %d)",
			at, res.StatusCode)
	}
	return nil
}

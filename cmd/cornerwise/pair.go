package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"time"

	"cornerwise/session/web"
)

// runPair shows how one device comes in to the Cornerwise that serves on this computer:
// for one without a screen, over a terminal from elsewhere.
func runPair(ctx context.Context, args []string, c console) error {
	f := newFlags("pair")
	listen := f.String("listen", cmp.Or(c.env("CORNERWISE_LISTEN"), usualListen), "")
	looks := f.Bool("looks", false, "")
	if err := parseNoWords(f, args); err != nil {
		return err
	}
	if err := checkListen(*listen); err != nil {
		return err
	}
	offer, err := askForOffer(ctx, *listen, *looks)
	if err != nil {
		return err
	}
	words, err := invitation(offer)
	if err != nil {
		return err
	}
	_, err = io.WriteString(c.stdout, words)
	return err
}

// askForOffer has the server that listens there make an offer for one device.
func askForOffer(ctx context.Context, listen string, looks bool) (offer web.OfferReply, err error) {
	host, port, err := net.SplitHostPort(listen)
	if err != nil {
		return offer, fmt.Errorf("read --listen: %w", err)
	}
	// Only a request by loopback is the owner's.
	if addr, err := netip.ParseAddr(host); err != nil || !addr.IsLoopback() {
		host = "127.0.0.1"
	}
	at := net.JoinHostPort(host, port)
	body, err := json.Marshal(web.OfferRequest{Looks: looks})
	if err != nil {
		return offer, fmt.Errorf("ask for a code: %w", err)
	}
	ctx, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	url := "http://" + at + "/api/v1/offers"
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, url, strings.NewReader(string(body)))
	if err != nil {
		return offer, fmt.Errorf("ask for a code: %w", err)
	}
	req.Header.Set("Content-Type", "application/json")
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return offer, fmt.Errorf("no Cornerwise answers at %s on this computer. "+
			"Start it, or say with --listen where it listens", at)
	}
	defer res.Body.Close()
	err = json.NewDecoder(io.LimitReader(res.Body, 1<<20)).Decode(&offer)
	switch {
	case err != nil || res.StatusCode != http.StatusCreated:
		return offer, fmt.Errorf("what answers at %s is no Cornerwise that knows of pairing (status %d)",
			at, res.StatusCode)
	case len(offer.Addresses) == 0:
		return offer, errors.New("no other device can reach this Cornerwise: there is no network, " +
			"or --listen keeps it to itself")
	}
	return offer, nil
}

// invitation shows the ways in for one device: pictures, addresses and a code.
func invitation(o web.OfferReply) (string, error) {
	may := ""
	if o.Looks {
		may = ", which may look and not tick"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "To let in a tablet, point its camera at the picture; or open the address there and\n"+
		"type the code %s. It lets in one device%s, until %s.\n",
		web.Grouped(o.Code), may, o.Until.Local().Format("15:04"))
	for _, a := range o.Addresses {
		picture, err := web.HalfBlocks(web.PairingAt(a, o.Token))
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&b, "\n%s  %s/\n", picture, a)
	}
	return b.String(), nil
}

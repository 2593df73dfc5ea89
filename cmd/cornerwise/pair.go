package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/session"
	"cornerwise/session/web"
)

// runPair shows how one device comes in to the Cornerwise that serves on this computer:
// for one without a screen, over a terminal from elsewhere.
func runPair(ctx context.Context, args []string, c console) error {
	f := newFlags("pair")
	listen := f.String("listen", cmp.Or(c.env("CORNERWISE_LISTEN"), usualListen), "")
	folder := f.String("data", cmp.Or(c.env("CORNERWISE_DATA"), datafolder.Usual(runtime.GOOS, c.env)), "")
	looks := f.Bool("looks", false, "")
	quilt := f.String("quilt", "", "")
	if err := parseNoWords(f, args); err != nil {
		return err
	}
	if err := checkListen(*listen); err != nil {
		return err
	}
	if strings.TrimSpace(*quilt) == "" && given(f, "quilt") {
		return misused("--quilt needs the title of a quilt after it, or its id")
	}
	ctx, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	server, err := runningAt(*listen)
	if err != nil {
		return err
	}
	// Where nobody asks for a port, it may have another than the usual one.
	if page, err := local.Page(ctx, *folder); err == nil && !given(f, "listen") && c.env("CORNERWISE_LISTEN") == "" {
		server = running(strings.TrimPrefix(page, "http://"))
	}
	var one session.Head
	if *quilt != "" {
		if one, err = server.quilt(ctx, *quilt); err != nil {
			return err
		}
	}
	offer, err := server.offer(ctx, web.OfferRequest{Looks: *looks, Session: one.ID})
	switch {
	case err != nil:
		return err
	case len(offer.Addresses) == 0:
		return errors.New("no other device can reach this Cornerwise: there is no network, or " +
			"--listen keeps it to itself")
	}
	words, err := invitation(offer, one.Title)
	if err != nil {
		return err
	}
	_, err = io.WriteString(c.stdout, words)
	return err
}

// invitation shows the ways in for one device: pictures, addresses and a code. one is the title
// of the only quilt that it is to see; "" for all.
func invitation(o web.OfferReply, one string) (string, error) {
	may := ""
	if o.Looks {
		may = ", which may look and not tick"
	}
	if one != "" {
		may += fmt.Sprintf(", for %q only", one)
	}
	var b strings.Builder
	for i, a := range o.Addresses {
		picture := ""
		if i == 0 { // the likeliest: more of them would not stay in the window
			shown, err := web.HalfBlocks(web.PairingAt(a, o.Token))
			if err != nil {
				return "", err
			}
			picture = shown
		}
		if i == 1 {
			b.WriteString("In the other networks of this computer the address is\n")
		}
		fmt.Fprintf(&b, "%s  %s/\n", picture, a)
	}
	fmt.Fprintf(&b, "\nTo let in a tablet, point its camera at the picture; or open the address there and\n"+
		"type the code %s. It lets in one device%s, until %s.\n",
		web.Grouped(o.Code), may, o.Until.Local().Format("15:04"))
	return b.String(), nil
}

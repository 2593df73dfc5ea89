package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"time"

	"cornerwise/session/web"
)

// runPair shows how one device comes in to the Cornerwise that serves on this
// computer: for one without a screen, over a terminal from elsewhere.
func runPair(args []string, env func(string) string, stdout, stderr io.Writer) int {
	listen := env("CORNERWISE_LISTEN")
	if listen == "" {
		listen = usualListen
	}
	fs := flag.NewFlagSet("pair", flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.Usage = func() {}
	fs.StringVar(&listen, "listen", listen, "")
	looks := fs.Bool("looks", false, "")
	err := fs.Parse(args)
	switch {
	case errors.Is(err, flag.ErrHelp):
		fmt.Fprint(stdout, help)
		return exitDone
	case err != nil:
		err = inWords(err)
	case fs.NArg() > 0:
		err = fmt.Errorf("%q is not understood here; \"cornerwise help\" shows what is", fs.Arg(0))
	default:
		err = checkListen(listen)
	}
	if err != nil {
		fmt.Fprintf(stderr, "cornerwise: %s.\n", err)
		return exitMisused
	}
	if err := pair(listen, *looks, stdout); err != nil {
		fmt.Fprintf(stderr, "cornerwise: %s.\n", err)
		return exitFailed
	}
	return exitDone
}

func pair(listen string, looks bool, stdout io.Writer) error {
	host, port, err := net.SplitHostPort(listen)
	if err != nil {
		return fmt.Errorf("read --listen: %w", err)
	}
	// Only by loopback is one the owner.
	if addr, err := netip.ParseAddr(host); err != nil || !addr.IsLoopback() {
		host = "127.0.0.1"
	}
	at := net.JoinHostPort(host, port)
	body, err := json.Marshal(web.OfferRequest{Looks: looks})
	if err != nil {
		return fmt.Errorf("ask for a code: %w", err)
	}
	client := http.Client{Timeout: 5 * time.Second}
	res, err := client.Post("http://"+at+"/api/v1/offers", "application/json", strings.NewReader(string(body)))
	if err != nil {
		return fmt.Errorf("no Cornerwise answers at %s on this computer. Start it, or say with --listen where it listens", at)
	}
	defer res.Body.Close()
	var offer web.OfferReply
	if err := json.NewDecoder(io.LimitReader(res.Body, 1<<20)).Decode(&offer); err != nil || res.StatusCode != http.StatusCreated {
		return fmt.Errorf("what answers at %s is no Cornerwise that knows of pairing (status %d)", at, res.StatusCode)
	}
	if len(offer.Addresses) == 0 {
		return errors.New("no other device can reach this Cornerwise: there is no network, or --listen keeps it to itself")
	}
	words, err := invite(offer)
	if err != nil {
		return err
	}
	_, err = io.WriteString(stdout, words)
	return err
}

// invite shows the ways in for one device: pictures, addresses and a code.
func invite(o web.OfferReply) (string, error) {
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

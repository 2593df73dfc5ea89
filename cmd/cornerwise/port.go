package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"strconv"
	"time"
)

// Where nobody asks for a port, the first of these that is free is taken.
const (
	usualPort = 8370
	lastPort  = 8389
)

// listen listens where it was asked to; or, where it was not, on the first free of the usual
// ports. An error is a whole sentence.
func listen(c config) (net.Listener, error) {
	if !c.anyPort() {
		listener, err := net.Listen("tcp", c.listen)
		if err != nil {
			return nil, explainListen(c.listen, err)
		}
		return listener, nil
	}
	for port := usualPort; port <= lastPort; port++ {
		listener, err := listenAlone(port)
		switch {
		case err == nil:
			return listener, nil
		case !taken(err):
			return nil, explainListen(":"+strconv.Itoa(port), err)
		}
	}
	return nil, fmt.Errorf("other programs have all the ports from %d to %d. End one of them, or "+
		"choose another port with --listen, such as --listen :9370", usualPort, lastPort)
}

// listenAlone listens on a port on every network. Some systems allow that beside a program that
// has the port for this computer only, which would then get what this computer asks for.
func listenAlone(port int) (net.Listener, error) {
	here, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err == nil {
		err = here.Close()
	} else if !taken(err) {
		err = nil // the one below says what is wrong
	}
	if err != nil {
		return nil, err
	}
	return net.Listen("tcp", ":"+strconv.Itoa(port))
}

// who has the usual port, in words: another user of this computer may have a Cornerwise there, with
// sessions of its own.
func who() string {
	// A stranger there leads nowhere else.
	client := http.Client{Timeout: time.Second, Transport: &http.Transport{DisableKeepAlives: true},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	at := "http://" + net.JoinHostPort("127.0.0.1", strconv.Itoa(usualPort))
	res, err := client.Get(at + "/healthz")
	if err != nil {
		return "Another program"
	}
	defer res.Body.Close()
	var health struct{ OK bool }
	if json.NewDecoder(io.LimitReader(res.Body, 1<<10)).Decode(&health) != nil || !health.OK {
		return "Another program"
	}
	return "Another Cornerwise, with sessions of its own (" + at + "/),"
}

func explainListen(listen string, err error) error {
	switch {
	case taken(err):
		return fmt.Errorf("the address %s is in use by another program; "+
			"stop it, or choose another port with --listen, such as --listen :8371", listen)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("this user may not listen on %s. Choose a port from 1024 up with --listen", listen)
	}
	return fmt.Errorf("can't listen on %s: %w", listen, err)
}

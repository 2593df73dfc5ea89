package local

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/netip"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// ErrNotServing tells that no server runs on the data folder.
var ErrNotServing = errors.New("no Cornerwise answers there")

const (
	maxReply = 1 << 20          // bytes; no reply comes near
	longest  = 10 * time.Minute // that a request may take: a large store takes long
	proveIn  = 5 * time.Second  // a stranger at the port may say nothing for ever
)

// Ask sends a request to the server that runs on a data folder, and reads its reply, in
// JSON, into a value. The error is ErrNotServing, that of ctx, or a whole sentence of the
// server's, without the last full stop.
func Ask(ctx context.Context, folder, method, path string, reply any) error {
	res, err := send(ctx, folder, method, path)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	body, err := io.ReadAll(io.LimitReader(res.Body, maxReply))
	if err != nil {
		return fmt.Errorf("it was stopped while it was asked (%w). Ask again", err)
	}
	if json.Unmarshal(body, reply) != nil {
		return ErrNotServing // another program has the port by now
	}
	return nil
}

type pageReply struct {
	Page string `json:"page"`
}

// aPage is the only thing that is ever handed on to be opened: whoever can write into the data
// folder, such as one on a stick, could name a program else.
var aPage = regexp.MustCompile(`^https?://([0-9.]+|\[[0-9a-f:.]+(%[0-9A-Za-z._-]+)?\]):[0-9]+$`)

// Page is the address of the first page of the server that runs on a data folder, as one opens
// it on this computer. The error is ErrNotServing, also where a server is too old to say it.
func Page(ctx context.Context, folder string) (string, error) {
	ctx, done := context.WithTimeout(ctx, proveIn)
	defer done()
	var said pageReply
	if err := Ask(ctx, folder, http.MethodGet, "/page", &said); err != nil || !aPage.MatchString(said.Page) {
		return "", ErrNotServing
	}
	return said.Page, nil
}

// Borrow has the server that runs on a data folder close its store. giveBack returns
// once the server has it open again. Where no server runs there is nothing to do.
func Borrow(ctx context.Context, folder string) (giveBack func(), err error) {
	held, err := send(ctx, folder, http.MethodPost, "/release")
	if errors.Is(err, ErrNotServing) {
		return func() {}, nil
	}
	if err != nil {
		return nil, err
	}
	return func() {
		held.Body.Close()
		if res, err := send(ctx, folder, http.MethodGet, "/serving"); err == nil {
			res.Body.Close()
		}
	}, nil
}

// send is Ask as far as the status, which is 200 where there is no error.
func send(ctx context.Context, folder, method, path string) (*http.Response, error) {
	address, word, err := whereServed(filepath.Join(folder, file))
	if err != nil {
		return nil, ErrNotServing
	}
	proved, err := sendTo(ctx, address, word, http.MethodGet, "/proof", proveIn)
	if err != nil {
		return nil, err
	}
	proved.Body.Close()
	res, err := sendTo(ctx, address, word, method, path, longest)
	if err != nil {
		return nil, err
	}
	if res.StatusCode == http.StatusOK {
		return res, nil
	}
	defer res.Body.Close()
	body, _ := io.ReadAll(io.LimitReader(res.Body, maxReply))
	var refused struct{ Error struct{ Message string } }
	if json.Unmarshal(body, &refused) != nil || refused.Error.Message == "" {
		return nil, ErrNotServing
	}
	return nil, errors.New(strings.TrimSuffix(refused.Error.Message, "."))
}

// whereServed reads the file that a server wrote. What is no file is not waited for, and nobody
// outside this computer is asked.
func whereServed(path string) (address, word string, err error) {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return "", "", ErrNotServing
	}
	written, err := os.ReadFile(path)
	if err != nil {
		return "", "", err
	}
	address, word, _ = strings.Cut(string(written), " ")
	if at, err := netip.ParseAddrPort(address); err != nil || !at.Addr().IsLoopback() {
		return "", "", ErrNotServing
	}
	return address, word, nil
}

// sendTo sends a request, and is back with a reply of the one that has the word.
func sendTo(ctx context.Context, address, word, method, path string, within time.Duration) (*http.Response, error) {
	req, err := http.NewRequestWithContext(ctx, method, "http://"+address+path, nil)
	if err != nil {
		return nil, ErrNotServing
	}
	c := newClaim(word, method, path)
	c.put(req)
	// A Transport of its own: a proxy of the environment must not get this. No redirect is
	// followed: a server of ours sends none.
	client := http.Client{Timeout: within, Transport: &http.Transport{DisableKeepAlives: true},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := client.Do(req)
	switch {
	case err != nil && ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil:
		return nil, ErrNotServing
	case !alike(res.Header.Get(proofHeader), c.answer(word)):
		res.Body.Close()
		return nil, ErrNotServing
	}
	return res, nil
}

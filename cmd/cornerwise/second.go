package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"time"

	"cornerwise/cmd/cornerwise/internal/local"
)

// firstWithin is how long a start waits for another one that has the store and is not up yet.
const firstWithin = 10 * time.Second

// second is a start on a data folder that is served already: it leads to that one, and says so.
// It is false where none serves there. mustWait: one has the store open, and may be about to.
func second(ctx context.Context, c config, mustWait bool, stdout io.Writer) (was bool) {
	page, err := local.Page(ctx, c.data)
	for end := time.Now().Add(firstWithin); err != nil && mustWait && time.Now().Before(end); {
		select {
		case <-ctx.Done():
			return false
		case <-time.After(100 * time.Millisecond):
		}
		page, err = local.Page(ctx, c.data)
	}
	if err != nil {
		return false
	}
	fmt.Fprintf(stdout, "Cornerwise is running already. Its first page is %s/\n", page)
	if slices.ContainsFunc([]string{"listen", "name", "open", "tls", "demo"}, func(o string) bool { return c.asked[o] }) {
		fmt.Fprint(stdout, "It goes on as it was started: for other options stop that one first.\n")
	}
	c.show(page + "/")
	return true
}

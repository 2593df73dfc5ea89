package main

import (
	"context"

	"cornerwise/session"
	"cornerwise/session/web"
)

// demoSession is the path of the demo session, made if there is none yet; "" where none
// is asked for.
func demoSession(ctx context.Context, c config, store *session.Store) (string, error) {
	if !c.demo {
		return "", nil
	}
	for after := ""; ; {
		heads, next, err := store.List(200, after, false)
		if err != nil {
			return "", err
		}
		for _, h := range heads {
			if h.Title == web.DemoTitle {
				return "s/" + h.ID, nil
			}
		}
		if after = next; next == "" {
			break
		}
	}
	head, err := store.Create(ctx, []byte(web.DemoPlan))
	return "s/" + head.ID, err
}

package session

import "context"

// A request is one change that waits for the committer.
type request struct {
	ctx  context.Context
	do   func(*batch) error
	err  error
	done chan struct{} // closed when err is final
}

// maxCommit is how many requests one commit does.
const maxCommit = 256

// change has the committer do something and returns once it is on disk. Where ctx ends
// before it is begun nothing of it is kept, and its cause is the error; later it is kept.
func (s *Store) change(ctx context.Context, do func(*batch) error) error {
	select {
	case <-s.stop:
		return ErrClosed
	case <-ctx.Done():
		return context.Cause(ctx)
	default:
	}
	r := &request{ctx: ctx, do: do, done: make(chan struct{})}
	select {
	case s.requests <- r:
	case <-ctx.Done():
		return context.Cause(ctx)
	case <-s.ended:
		return ErrClosed
	}
	<-r.done
	return r.err
}

// run is the committer. It ends when Close was called and nothing waits.
func (s *Store) run() {
	defer close(s.ended)
	for {
		select {
		case r := <-s.requests:
			s.commit(s.gather(r))
			continue
		case <-s.stop:
		}
		for {
			select {
			case r := <-s.requests:
				s.commit(s.gather(r))
				continue
			default:
			}
			return
		}
	}
}

// gather is what waits by now and does not wait for more: one writer alone pays
// for one sync, a hundred share it.
func (s *Store) gather(first *request) []*request {
	all := []*request{first}
	for len(all) < maxCommit {
		select {
		case r := <-s.requests:
			all = append(all, r)
			continue
		default:
		}
		break
	}
	return all
}

// commit does the requests in one transaction, then tells watches, then ends the requests.
func (s *Store) commit(requests []*request) {
	var b *batch
	err := faultAsDamage(func() (err error) {
		b, err = s.write(requests)
		return err
	})
	if err != nil {
		err = s.heard(fileError("write "+s.name, err))
		for _, r := range requests {
			r.err = err
		}
	} else {
		s.publish(b)
	}
	for _, r := range requests {
		s.heard(r.err)
		close(r.done)
	}
}

func (s *Store) write(requests []*request) (*batch, error) {
	tx, err := s.db.beginWrite()
	if err != nil {
		return nil, err
	}
	defer tx.Rollback() // nothing, once committed
	b := &batch{store: s, tx: tx, drafts: map[string]*draft{}}
	kept := false
	defer func() {
		if !kept {
			b.giveBack()
		}
	}()
	for _, r := range requests {
		if b.err != nil {
			break // a fault of the file undoes all of it
		}
		// Who was shut out while it waited changes nothing any more (Devices.Forget).
		if r.err = context.Cause(r.ctx); r.err == nil {
			b.account, b.by = chargedIn(r.ctx), namedIn(r.ctx)
			r.err = r.do(b)
		}
	}
	b.heads()
	b.keepAccounts()
	switch {
	case b.err != nil:
		return nil, b.err
	case !b.wrote:
		return b, nil // refused or repeated, all of it: no need to wait for the disk
	}
	err = s.db.commit(tx)
	kept = err == nil
	return b, err
}

package session

import (
	"errors"
	"testing"
	"testing/synctest"
)

// A commit that fails charges nobody: what it would have added is not there.
func TestWhatIsNotKeptIsNotCharged(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, snap := inside(t)
		network := &Account{}
		account := &Account{Wider: network}
		in := Charged(t.Context(), account)
		goOn, failed, disk := make(chan struct{}), make(chan error, 2), errors.New("the disk failed")
		go s.change(t.Context(), func(*batch) error { <-goOn; return nil })
		synctest.Wait()
		// These two share the next commit, and what fails it.
		go func() { _, err := s.Create(in, snap.Work.Source); failed <- err }()
		synctest.Wait()
		go func() {
			failed <- s.change(in, func(b *batch) error { b.err = disk; return nil })
		}()
		synctest.Wait()
		close(goOn)
		for range 2 {
			if err := <-failed; !errors.Is(err, disk) {
				t.Errorf("in a commit that fails: %v, want what failed it", err)
			}
		}
		if account.sum() != (Added{}) || network.sum() != (Added{}) {
			t.Errorf("after it, charged %+v and its network %+v, want nothing", account.sum(), network.sum())
		}
		if _, err := s.Create(in, snap.Work.Source); err != nil {
			t.Fatal(err)
		}
		if is := account.sum(); is.Sessions != 1 || is.Bytes < 100 || network.sum() != is {
			t.Errorf("after one that does not, charged %+v and its network %+v, want a session to both", is, network.sum())
		}
	})
}

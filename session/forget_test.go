package session

import (
	"bytes"
	"context"
	"errors"
	"testing"
	"testing/synctest"
)

// Each change that waits for the committer when its device is forgotten is refused, and what
// others asked for in the same commit is done. Both wait while another commit is held up, so
// that they share the next one: the first of them forgets the device.
func TestAChangeThatWaitsIsRefusedOnceItsDeviceIsForgotten(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, snap := inside(t)
		d, err := OpenDevices(s)
		if err != nil {
			t.Fatal(err)
		}
		export, err := s.Export(snap.ID)
		if err != nil {
			t.Fatal(err)
		}
		for name, change := range map[string]func(context.Context) error{
			"an op":    func(ctx context.Context) error { _, err := s.Do(ctx, snap.ID, noteOp("a", snap.Work, "a")); return err },
			"a plan":   func(ctx context.Context) error { _, err := s.Create(ctx, snap.Work.Source); return err },
			"a file":   func(ctx context.Context) error { _, err := s.Import(ctx, bytes.NewReader(export)); return err },
			"the bin":  func(ctx context.Context) error { return s.Bin(ctx, snap.ID) },
			"a return": func(ctx context.Context) error { return s.Unbin(ctx, snap.ID) },
		} {
			secret, device, err := d.Pair(t.Context(), Guess{Token: d.Offer(Rights{}).Token})
			if err != nil {
				t.Fatal(err)
			}
			_, in, _ := d.Enter(t.Context(), secret)
			goOn, failed := make(chan struct{}), make(chan error, 1)
			go s.change(t.Context(), func(*batch) error { <-goOn; return nil })
			synctest.Wait()
			go s.change(t.Context(), func(*batch) error {
				d.drop(func(k *known) bool { return k.ID == device.ID })
				return nil
			})
			synctest.Wait()
			go func() { failed <- change(in) }()
			synctest.Wait()
			close(goOn)
			if err := <-failed; !errors.Is(err, ErrForgotten) {
				t.Errorf("%s: %v, want ErrForgotten", name, err)
			}
			heads, _, err := s.List(10, "", false)
			if err != nil || len(heads) != 1 || heads[0] != snap.Head {
				t.Errorf("%s: the store holds %+v, %v, want it unchanged: %+v", name, heads, err, snap.Head)
			}
		}
	})
}

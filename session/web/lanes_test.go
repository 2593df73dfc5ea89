package web

import (
	"context"
	"errors"
	"testing"
	"testing/synctest"
)

// Each device has one plan reckoned at a time, all of them together no more than there are
// places; the owner waits for nobody, and who goes away holds up nobody. A network that takes
// many addresses does not keep the next place from who is elsewhere.
func TestDevicesReckonInTurn(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := newLanes()
		l.all = make(chan struct{}, 2)
		at := func(name string) visitor { return visitor{party: party{one: name}} }
		in := make(chan string, 10)
		leave := map[string]chan struct{}{}
		enter := func(ctx context.Context, name string, v visitor) {
			done := make(chan struct{})
			leave[name] = done
			go func() {
				left, err := l.enter(ctx, v)
				if err != nil {
					in <- name + " gives up"
					return
				}
				in <- name
				<-done
				left()
			}()
			synctest.Wait()
		}
		expect := func(want ...string) {
			t.Helper()
			synctest.Wait()
			for _, w := range want {
				select {
				case got := <-in:
					if got != w {
						t.Errorf("%q comes, want %q", got, w)
					}
				default:
					t.Errorf("nobody comes, want %q", w)
				}
			}
			if len(in) > 0 {
				t.Errorf("%q comes too", <-in)
			}
		}
		ctx, goAway := context.WithCancelCause(t.Context())
		enter(t.Context(), "first", at("a"))
		expect("first")
		enter(t.Context(), "second of the same", at("a"))
		expect()
		enter(t.Context(), "another", at("b"))
		expect("another")
		enter(ctx, "a third", at("c"))
		expect()
		enter(t.Context(), "the owner", visitor{owner: true})
		expect("the owner")
		goAway(errors.New("gone"))
		expect("a third gives up")
		close(leave["first"])
		expect("second of the same")
		close(leave["second of the same"])
		close(leave["another"])
		close(leave["the owner"])
		synctest.Wait()

		network := func(name string) visitor { return visitor{party: party{one: name, around: "fd00::/64"}} }
		for _, name := range []string{"a", "b", "c", "d", "e"} {
			enter(t.Context(), "its "+name, network(name))
		}
		expect("its a", "its b")
		enter(t.Context(), "one from elsewhere", at("x"))
		expect()
		close(leave["its a"])
		expect("one from elsewhere")
		close(leave["one from elsewhere"])
		expect("its c")
		for _, name := range []string{"b", "c", "d", "e"} {
			close(leave["its "+name])
			synctest.Wait()
		}
		for len(in) > 0 {
			<-in
		}
		if len(l.each) != 0 || len(l.all) != 0 {
			t.Errorf("%d lanes and %d places are held by nobody", len(l.each), len(l.all))
		}
	})
}

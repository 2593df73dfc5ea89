package session_test

import (
	"fmt"
	"testing"
	"time"

	"cornerwise/session"
)

func TestThrottleLetsBurstThenOneEvery(t *testing.T) {
	at := newClock().at
	th := session.NewThrottle(3, time.Minute)
	use := func(key string, after time.Duration, want bool) {
		t.Helper()
		wait := th.Wait(key, at.Add(after))
		if got := th.Use(key, at.Add(after)); (got == 0) != want || got != wait {
			t.Errorf("Use(%s) after %v: got a wait of %v (Wait said %v), want it let: %v", key, after, got, wait, want)
		}
	}
	for range 3 {
		use("a", 0, true)
	}
	use("a", 0, false)
	use("b", 0, true)
	use("a", 59*time.Second, false)
	use("a", 61*time.Second, true)
	use("a", 61*time.Second, false)
	if wait := th.Wait("a", at.Add(61*time.Second)); wait < 58*time.Second || wait > time.Minute {
		t.Errorf("Wait: got %v, want 59 s or so", wait)
	}
	use("a", time.Hour, true)
}

// A crowd of addresses neither fills the memory nor frees anyone of the limit.
func TestThrottleOutlastsACrowd(t *testing.T) {
	at := newClock().at
	th := session.NewThrottle(2, time.Minute)
	th.Use("a", at)
	th.Use("a", at)
	let := 0
	for n := range 5000 {
		if th.Use(fmt.Sprint(n), at) == 0 {
			let++
		}
	}
	if let > 1024+2 {
		t.Errorf("5000 addresses at once: %d let, want 1023 of their own and 2 shared", let)
	}
	if th.Use("a", at) == 0 {
		t.Errorf("Use(a) after the crowd: let, want it still refused")
	}
	if th.Use("z", at.Add(time.Hour)) != 0 {
		t.Errorf("Use(z) an hour later: refused, want room again")
	}
}

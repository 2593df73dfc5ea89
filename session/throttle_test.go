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
	take := func(key string, after time.Duration, want bool) {
		t.Helper()
		wait := th.Wait(key, at.Add(after))
		if got := th.Take(key, at.Add(after)); (got == 0) != want || got != wait {
			t.Errorf("Take(%s) after %v: got a wait of %v (Wait said %v), want it taken: %v", key, after, got, wait, want)
		}
	}
	for range 3 {
		take("a", 0, true)
	}
	take("a", 0, false)
	take("b", 0, true)
	take("a", 59*time.Second, false)
	take("a", 61*time.Second, true)
	take("a", 61*time.Second, false)
	if wait := th.Wait("a", at.Add(61*time.Second)); wait < 58*time.Second || wait > time.Minute {
		t.Errorf("Wait: got %v, want 59 s or so", wait)
	}
	take("a", time.Hour, true)
}

// A crowd of addresses neither fills the memory nor frees anyone of the limit.
func TestThrottleOutlastsACrowd(t *testing.T) {
	at := newClock().at
	th := session.NewThrottle(2, time.Minute)
	th.Take("a", at)
	th.Take("a", at)
	taken := 0
	for n := range 5000 {
		if th.Take(fmt.Sprint(n), at) == 0 {
			taken++
		}
	}
	if taken > 1024+2 {
		t.Errorf("5000 addresses at once: %d taken, want 1023 of their own and 2 shared", taken)
	}
	if th.Take("a", at) == 0 {
		t.Errorf("Take(a) after the crowd: taken, want it still refused")
	}
	if th.Take("z", at.Add(time.Hour)) != 0 {
		t.Errorf("Take(z) an hour later: refused, want room again")
	}
}

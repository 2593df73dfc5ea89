package session

import (
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// maxKeys bounds what a throttle remembers; beyond it, strangers share one allowance.
const maxKeys = 1024

// A Throttle lets each key do a thing so often: Burst times at once, and once more
// every Every. It is safe for concurrent use; make it with NewThrottle.
type Throttle struct {
	every time.Duration
	burst int

	mu   sync.Mutex
	each map[string]*rate.Limiter
	rest *rate.Limiter // of those who found no room in each
}

func NewThrottle(burst int, every time.Duration) *Throttle {
	t := &Throttle{every: every, burst: burst, each: map[string]*rate.Limiter{}}
	t.rest = t.limiter()
	return t
}

func (t *Throttle) limiter() *rate.Limiter { return rate.NewLimiter(rate.Every(t.every), t.burst) }

// Use does it once for the key. Where that is too soon it is not done, and wait
// says how long to leave it; else wait is 0.
func (t *Throttle) Use(key string, now time.Time) (wait time.Duration) {
	t.mu.Lock()
	defer t.mu.Unlock()
	l := t.keyLocked(key, now)
	if l.AllowN(now, 1) {
		return 0
	}
	return time.Duration((1-l.TokensAt(now))*float64(t.every)).Round(time.Millisecond) + time.Millisecond
}

// Wait is what Use would return, and does nothing.
func (t *Throttle) Wait(key string, now time.Time) time.Duration {
	t.mu.Lock()
	defer t.mu.Unlock()
	short := 1 - t.keyLocked(key, now).TokensAt(now)
	if short <= 0 {
		return 0
	}
	return time.Duration(short*float64(t.every)).Round(time.Millisecond) + time.Millisecond
}

func (t *Throttle) keyLocked(key string, now time.Time) *rate.Limiter {
	if l := t.each[key]; l != nil {
		return l
	}
	if len(t.each) >= maxKeys {
		for k, l := range t.each {
			if l.TokensAt(now) >= float64(t.burst) {
				delete(t.each, k) // as good as new
			}
		}
	}
	if len(t.each) >= maxKeys {
		return t.rest
	}
	l := t.limiter()
	t.each[key] = l
	return l
}

package session

import (
	"context"
	"fmt"
	"sync"
)

// What a device may add before somebody is asked at the computer, who allows it as much again
// (Devices.Allow). A tick adds some 230 bytes and a border of 106 ticks 24 KB, so that a class at
// its most diligent is far below: 16 MiB are seven hundred borders.
const (
	MaxSessions = 24       // made, or imported
	MaxBytes    = 16 << 20 // of records, about as they lie in the file
)

// keepEvery is how much comes together before the file is told, so that a restart forgets no
// more than that. A session that is begun is told at once.
const keepEvery = 64 << 10

// Added is what a device has added since it was last allowed more.
type Added struct {
	Sessions int   `json:"sessions,omitempty"`
	Bytes    int64 `json:"bytes,omitempty"`
}

func (a Added) plus(more Added) Added {
	return Added{a.Sessions + more.Sessions, a.Bytes + more.Bytes}
}

func (a Added) minus(less Added) Added {
	return Added{max(0, a.Sessions-less.Sessions), max(0, a.Bytes-less.Bytes)}
}

// Spent is the refusal of what would be more than a device may add. Nothing of it was kept.
type Spent struct {
	Added    Added // so far
	Sessions bool  // it is a session too many; else it is bytes
	Paired   bool  // Devices.Allow lets it go on
}

func (s *Spent) Error() string {
	return fmt.Sprintf("the device has added %d sessions and %d bytes, and may not add this too", s.Added.Sessions, s.Added.Bytes)
}

// An Account holds who is charged to what one may add. It is safe for concurrent use; a zero one
// is in memory only.
type Account struct {
	// Wider is the account of all that this one is a part of, such as a network; nil for none.
	// It allows as much as four.
	Wider *Account

	device string   // the id of the paired device, where it is one's
	of     *Devices // that keep it; nil for in memory only

	mu     sync.Mutex
	added  Added
	unkept int64 // bytes, of added, that the file does not know
	due    bool  // the file should know
}

const widerAllows = 4

type accountKey struct{}

// Charged is ctx with what is added in it charged to the account. Without one nothing is counted.
func Charged(ctx context.Context, to *Account) context.Context {
	return context.WithValue(ctx, accountKey{}, to)
}

func chargedIn(ctx context.Context) *Account {
	a, _ := ctx.Value(accountKey{}).(*Account)
	return a
}

// Used tells whether anything was charged to it.
func (a *Account) Used() bool { return a.sum() != Added{} }

// take counts more, or nothing where that is too much.
func (a *Account) take(more Added) error {
	if err := a.takeUpTo(more, 1); err != nil {
		return err
	}
	if a.Wider != nil {
		if err := a.Wider.takeUpTo(more, widerAllows); err != nil {
			a.giveBack(more)
			return err
		}
	}
	return nil
}

func (a *Account) takeUpTo(more Added, times int) error {
	a.mu.Lock()
	defer a.mu.Unlock()
	sum := a.added.plus(more)
	many := sum.Sessions > times*MaxSessions
	if many || sum.Bytes > int64(times)*MaxBytes {
		return &Spent{Added: a.added, Sessions: many, Paired: a.of != nil}
	}
	a.added = sum
	a.unkept += more.Bytes
	a.due = a.due || more.Sessions > 0 || a.unkept >= keepEvery
	return nil
}

// untake is for what was taken and not kept.
func (a *Account) untake(less Added) {
	a.giveBack(less)
	if a.Wider != nil {
		a.Wider.giveBack(less)
	}
}

func (a *Account) giveBack(less Added) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.added = a.added.minus(less)
}

// renew begins the allowance anew.
func (a *Account) renew() {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.added, a.unkept, a.due = Added{}, 0, false
}

func (a *Account) sum() Added {
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.added
}

// nowKept is whether the file should know by now; it will.
func (a *Account) nowKept() (due bool) {
	a.mu.Lock()
	defer a.mu.Unlock()
	due, a.due = a.due && a.of != nil, false
	if due {
		a.unkept = 0
	}
	return due
}

// A charge is what one request of a batch added.
type charge struct {
	to   *Account
	more Added
}

// charge counts what the request under way is about to add. Where that is more than may be, it
// is the error, and nothing may be put.
func (b *batch) charge(more Added) error {
	if b.account == nil {
		return nil
	}
	if err := b.account.take(more); err != nil {
		return err
	}
	b.charges = append(b.charges, charge{b.account, more})
	return nil
}

// keepAccounts writes what has come together of devices.
func (b *batch) keepAccounts() {
	for _, c := range b.charges {
		if c.to.nowKept() {
			c.to.of.put(b, c.to.device)
		}
	}
}

// giveBack is for a batch that is not kept.
func (b *batch) giveBack() {
	for _, c := range b.charges {
		c.to.untake(c.more)
	}
}

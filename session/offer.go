package session

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"errors"
	"fmt"
	"math/big"
	"strings"
	"time"
	"unicode/utf8"
)

// What an offer is made of. A code has 8 digits, 26 bits: OWASP ASVS 4.0.3 asks
// for 20 bits (2.7.6), 10 minutes (2.7.2), a single use (2.7.3), and at most 100
// wrong guesses an hour (2.2.1), which leaves 1 chance in 10^6 a code.
const (
	codeDigits = 8
	offerLasts = 10 * time.Minute
	// offerStands is how much of its time an offer must have left to be shown
	// again: time enough to walk over and type it.
	offerStands = 5 * time.Minute
	// maxOffers stand at once, or each guess would hit more often; the oldest makes room.
	maxOffers = 16

	maxName = 40 // of a device, in characters
)

var (
	ErrWrongCode   = errors.New("no such code")
	ErrManyDevices = fmt.Errorf("there are %d devices already", maxDevices)
)

// TooSoon is a guess after too many wrong ones. Nothing was compared.
type TooSoon struct{ Wait time.Duration }

func (t *TooSoon) Error() string { return fmt.Sprintf("too many wrong codes; wait %v", t.Wait) }

// An Offer lets one device in, once, until its time is up: by the token in a
// picture, or by the code that a person types.
type Offer struct {
	Token  string // 130 bits
	Code   string // 8 digits
	Rights        // of who takes it
	Until  time.Time
}

// Offer is the offer with these rights that stands, or a new one. It is kept nowhere but in
// memory. Whether there is such a session is for the caller to ask.
func (d *Devices) Offer(may Rights) Offer {
	now := d.store.now()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.tidyLocked(now)
	for _, o := range d.offers {
		if o.Rights == may && o.Until.Sub(now) >= offerStands {
			return o
		}
	}
	o := Offer{Token: rand.Text(), Code: newCode(), Rights: may, Until: now.Add(offerLasts)}
	for hasCode(d.offers, o.Code) {
		o.Code = newCode()
	}
	if len(d.offers) >= maxOffers {
		d.offers = d.offers[1:]
	}
	d.offers = append(d.offers, o)
	return o
}

func hasCode(offers []Offer, code string) bool {
	for _, o := range offers {
		if o.Code == code {
			return true
		}
	}
	return false
}

func newCode() string {
	n, err := rand.Int(rand.Reader, new(big.Int).Exp(big.NewInt(10), big.NewInt(codeDigits), nil))
	if err != nil {
		panic(err) // crypto/rand never fails
	}
	return fmt.Sprintf("%0*d", codeDigits, n)
}

func (d *Devices) tidyLocked(now time.Time) {
	for len(d.offers) > 0 && !now.Before(d.offers[0].Until) {
		d.offers = d.offers[1:]
	}
}

// A Guess is what a device brings to be let in: a token, or a code as it was typed.
type Guess struct {
	Token, Code string
	From        string // the address that it came from
	Around      string // the network of IPv6 that has it; "" where there is none
	Name        string // what the device is to be called
	Old         string // the device's secret, where it was let in before
}

// Pair lets a device in for good and uses the offer up. secret is for the device
// alone. Errors are ErrWrongCode, *TooSoon, ErrManyDevices, or the disk's.
func (d *Devices) Pair(ctx context.Context, g Guess) (secret string, device Device, err error) {
	secret = rand.Text() // 130 bits: no salt and no slow hash is needed
	if device, err = d.redeem(g, secret); err != nil {
		return "", Device{}, err
	}
	if err := d.keep(ctx, device.ID); err != nil {
		d.drop(func(k *known) bool { return k.ID == device.ID })
		return "", Device{}, err
	}
	if g.Old != "" {
		// The same device, let in anew. A full disk is no reason to refuse it.
		_ = d.Forget(ctx, idOfSecret(g.Old))
	}
	return secret, device, nil
}

// redeem finds the offer, uses it up and lets in the device that has the secret, all in one:
// ForgetAll comes before it or after it.
func (d *Devices) redeem(g Guess, secret string) (Device, error) {
	now := d.store.now()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.tidyLocked(now)
	wait := d.guesses.wait(g, now)
	code := readCode(g.Code)
	for i, o := range d.offers {
		// Nobody guesses 130 bits: who brings the token waits for no one's wrong guesses.
		if g.Token != "" && alike(g.Token, o.Token) || g.Token == "" && wait == 0 && alike(code, o.Code) {
			d.offers = append(d.offers[:i:i], d.offers[i+1:]...)
			return d.addLocked(secret, clipName(g.Name), o.Rights, now)
		}
	}
	if wait > 0 {
		return Device{}, &TooSoon{wait}
	}
	d.guesses.use(g, now)
	return Device{}, ErrWrongCode
}

func alike(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// readCode is the digits of a code as people type it, in groups or not; "" where
// it can't be one.
func readCode(typed string) string {
	if len(typed) > 4*codeDigits {
		return ""
	}
	var digits strings.Builder
	for _, c := range typed {
		switch {
		case c >= '0' && c <= '9':
			digits.WriteRune(c)
		case c >= '０' && c <= '９': // the wide ones of some keyboards
			digits.WriteRune(c - '０' + '0')
		case c == ' ', c == '-', c == '.', c == '\u00a0', c == '\u2013', c == '\t':
		default:
			return ""
		}
	}
	if digits.Len() != codeDigits {
		return ""
	}
	return digits.String()
}

// clipName is a name of one line and at most maxName characters.
func clipName(name string) string {
	name = strings.Join(strings.Fields(strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f || c == utf8.RuneError || c >= 0x202a && c <= 0x202e || c >= 0x2066 && c <= 0x2069 {
			return ' '
		}
		return c
	}, name)), " ")
	if letters := []rune(name); len(letters) > maxName {
		name = strings.TrimSpace(string(letters[:maxName]))
	}
	if name == "" {
		return "A device"
	}
	return name
}

// guesses are the limits on wrong ones. A network of IPv6 has less than all do: who takes
// many addresses of it leaves something to those elsewhere.
type guesses struct {
	each, around  *Throttle // by address, and by network
	codes, tokens *Throttle // in all
}

func (l guesses) inAll(g Guess) *Throttle {
	if g.Token != "" {
		return l.tokens
	}
	return l.codes
}

func (l guesses) wait(g Guess, now time.Time) time.Duration {
	wait := max(l.each.Wait(g.From, now), l.inAll(g).Wait("", now))
	if g.Around != "" {
		wait = max(wait, l.around.Wait(g.Around, now))
	}
	return wait
}

func (l guesses) use(g Guess, now time.Time) {
	l.each.Use(g.From, now)
	l.inAll(g).Use("", now)
	if g.Around != "" {
		l.around.Use(g.Around, now)
	}
}

func newGuesses() guesses {
	return guesses{
		each:   NewThrottle(10, time.Minute),
		around: NewThrottle(15, time.Minute),
		codes:  NewThrottle(20, 45*time.Second), // 20 + 80 in the first hour
		tokens: NewThrottle(100, time.Second),
	}
}

package session

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	bolt "go.etcd.io/bbolt"
)

const (
	maxDevices = 100
	// seenEvery is how far the kept time of a device's last visit may lag behind.
	seenEvery = 5 * time.Minute
	// unseenFor is how long a device may stay away; its cookie lasts as long.
	unseenFor = 400 * 24 * time.Hour
)

// A Device is a browser that was let in beside the owner's own.
type Device struct {
	ID   string `json:"-"` // the SHA-256 of its secret, in hexadecimal
	Name string `json:"name"`
	Rights
	Paired time.Time `json:"paired"`
	Seen   time.Time `json:"seen"`
	// Added is what it added since it was last allowed more, or was let in. On the disk it
	// may lag behind by a little (keepEvery).
	Added Added `json:"added,omitzero"`
}

// Rights are what a device may. The zero ones: it sees and changes every session.
type Rights struct {
	Looks bool   `json:"looks,omitempty"` // it may look, and not tick
	Only  string `json:"only,omitempty"`  // the id of the one session that it sees; "" for all
}

// Devices are all that were let in, and the offers that let in the next. A device
// proves itself by a secret that only it has: here there is only its hash. It is
// safe for concurrent use.
type Devices struct {
	store   *Store
	guesses guesses

	// mu guards the rest and is never held while the disk is waited for.
	mu     sync.Mutex
	known  map[string]*known
	offers []Offer // oldest first
}

type known struct {
	Device
	kept    time.Time // Seen as it is on the disk
	account *Account
	in      context.Context // until the device is forgotten
	out     context.CancelCauseFunc
}

// ErrForgotten is what ends the context of a device.
var ErrForgotten = errors.New("the device was forgotten")

// OpenDevices reads the devices of a store. A record that can't be read is a
// device that must pair again, nothing worse.
func OpenDevices(s *Store) (*Devices, error) {
	d := &Devices{store: s, guesses: newGuesses(), known: map[string]*known{}}
	now := s.now()
	err := s.view("read the devices of", func(tx *bolt.Tx) error {
		return tx.Bucket(bucketDevices).ForEach(func(id, kept []byte) error {
			device, err := readDevice(len(migrations), id, kept)
			if err == nil && now.Sub(device.Seen) < unseenFor {
				k := d.newKnown(device)
				k.kept = k.Seen
				d.known[k.ID] = k
			}
			return nil
		})
	})
	if err != nil {
		return nil, err
	}
	return d, nil
}

// readDevice is the device that a store of a version keeps under its id.
func readDevice(version int, id, kept []byte) (Device, error) {
	data, err := deviceData(version, id, kept)
	if err != nil {
		return Device{}, err
	}
	device := Device{ID: string(id)}
	return device, json.Unmarshal(data, &device)
}

// deviceData is a device's JSON as a store of a version keeps it.
func deviceData(version int, id, kept []byte) ([]byte, error) {
	if version < devicesSealedFrom {
		return kept, nil
	}
	return unsealed(id, kept)
}

func (d *Devices) newKnown(device Device) *known {
	account := &Account{device: device.ID, of: d, added: device.Added}
	in, out := context.WithCancelCause(Named(Charged(context.Background(), account), device.Name))
	return &known{Device: device, account: account, in: in, out: out}
}

// now is the device as it stands.
func (k *known) now() Device {
	device := k.Device
	device.Added = k.account.sum()
	return device
}

func idOfSecret(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// Enter is the device that has the secret. in ends when it is forgotten, with ErrForgotten:
// changes that are asked for in it, or in a child of it, are refused from then on. What they add
// is charged to the device: beyond what it may add they are refused with *Spent.
func (d *Devices) Enter(ctx context.Context, secret string) (device Device, in context.Context, ok bool) {
	now := d.store.now().UTC().Truncate(time.Second)
	d.mu.Lock()
	k := d.known[idOfSecret(secret)]
	if k == nil || now.Sub(k.Seen) >= unseenFor {
		d.mu.Unlock()
		return Device{}, nil, false
	}
	k.Seen = now
	device, in = k.now(), k.in
	stale := now.Sub(k.kept) >= seenEvery
	if stale {
		k.kept = now
	}
	d.mu.Unlock()
	if stale {
		// A full disk is no reason to refuse anyone: the time is in memory.
		_ = d.keep(ctx, device.ID)
	}
	return device, in, true
}

// keep writes a device that was not forgotten meanwhile.
func (d *Devices) keep(ctx context.Context, id string) error {
	return d.change(ctx, func(b *batch, _ *bolt.Bucket) { d.put(b, id) })
}

func (d *Devices) put(b *batch, id string) {
	d.mu.Lock()
	k := d.known[id]
	var device Device
	if k != nil {
		device = k.now()
	}
	d.mu.Unlock()
	if k != nil {
		b.putJSON(b.tx.Bucket(bucketDevices), []byte(id), device)
	}
}

// Allow lets a device add as much again as one may, in memory at once and on disk when it
// returns. One that is not known is no error.
func (d *Devices) Allow(ctx context.Context, id string) error {
	d.mu.Lock()
	k := d.known[id]
	d.mu.Unlock()
	if k == nil {
		return nil
	}
	k.account.renew()
	return d.keep(ctx, id)
}

func (d *Devices) knows(id string) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.known[id] != nil
}

// change writes to the bucket of the devices.
func (d *Devices) change(ctx context.Context, do func(*batch, *bolt.Bucket)) error {
	return d.store.change(context.WithoutCancel(ctx), func(b *batch) error {
		do(b, b.tx.Bucket(bucketDevices))
		return b.err
	})
}

// addLocked lets a device in, in memory. secret is what it proves itself with from now on.
func (d *Devices) addLocked(secret, name string, may Rights, now time.Time) (Device, error) {
	if len(d.known) >= maxDevices {
		return Device{}, ErrManyDevices
	}
	now = now.UTC().Truncate(time.Second)
	k := d.newKnown(Device{ID: idOfSecret(secret), Name: d.freeNameLocked(name), Rights: may, Paired: now, Seen: now})
	k.kept = now
	d.known[k.ID] = k
	return k.Device, nil
}

// freeNameLocked is the name, with a number where there is such a device already.
func (d *Devices) freeNameLocked(name string) string {
	inUse := map[string]bool{}
	for _, k := range d.known {
		inUse[k.Name] = true
	}
	free := name
	for n := 2; inUse[free]; n++ {
		free = fmt.Sprintf("%s %d", name, n)
	}
	return free
}

// List is all devices, last seen first.
func (d *Devices) List() []Device {
	d.mu.Lock()
	defer d.mu.Unlock()
	list := make([]Device, 0, len(d.known))
	for _, k := range d.known {
		list = append(list, k.now())
	}
	slices.SortFunc(list, func(a, b Device) int {
		return cmp.Or(b.Seen.Compare(a.Seen), strings.Compare(a.Name, b.Name), strings.Compare(a.ID, b.ID))
	})
	return list
}

// Forget shuts a device out: at once, and on disk when it returns. A change that it asked for
// before and that was not begun is refused. One that is not known is no error: it is out.
func (d *Devices) Forget(ctx context.Context, id string) error {
	return d.forget(ctx, func(k *known) bool { return k.ID == id })
}

// ForgetAll shuts every device out, and ends the offers.
func (d *Devices) ForgetAll(ctx context.Context) error {
	d.mu.Lock()
	d.offers = nil
	d.mu.Unlock()
	return d.forget(ctx, func(*known) bool { return true })
}

func (d *Devices) forget(ctx context.Context, which func(*known) bool) error {
	// First out, then off the disk: where that fails, it is out until the program
	// starts again, and the error says so.
	if d.drop(which) == 0 {
		return nil
	}
	return d.change(ctx, func(b *batch, devices *bolt.Bucket) {
		var out [][]byte // with those that stayed away too long or can't be read
		devices.ForEach(func(id, _ []byte) error {
			if !d.knows(string(id)) {
				out = append(out, append([]byte(nil), id...))
			}
			return nil
		})
		for _, id := range out {
			b.delete(devices, id)
		}
	})
}

// drop ends which devices from this moment on, and says how many.
func (d *Devices) drop(which func(*known) bool) (n int) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for id, k := range d.known {
		if which(k) {
			delete(d.known, id)
			k.out(ErrForgotten)
			n++
		}
	}
	return n
}

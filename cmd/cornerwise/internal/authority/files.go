package authority

import (
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"net/netip"
	"os"
	"path/filepath"
	"time"

	"cornerwise/session/disk"
)

const (
	certFile = "authority.crt"
	keyFile  = "authority.key"
	asideFor = ".set-aside-" // then the time
)

// files are the two that an authority lies in. It can be used where both are whole.
type files struct{ cert, key string }

// Files names both, for people.
func Files(folder string) string {
	return filepath.Join(folder, certFile) + " " + filepath.Join(folder, keyFile)
}

// errHalf tells that there is no authority, or not the whole of one.
var errHalf = errors.New("not whole")

func (f files) read() (*Authority, error) {
	a := &Authority{}
	certErr := readPEM(f.cert, func(der []byte) (err error) { a.cert, err = x509.ParseCertificate(der); return err })
	keyErr := readPEM(f.key, func(der []byte) (err error) { a.key, err = x509.ParseECPrivateKey(der); return err })
	// What can't be read may be whole: that is told first.
	for _, err := range []error{certErr, keyErr} {
		if err != nil && !errors.Is(err, errHalf) {
			return nil, err
		}
	}
	return a, errors.Join(certErr, keyErr)
}

func readPEM(path string, parse func(der []byte) error) error {
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return errHalf
	}
	if err != nil {
		return err
	}
	block, _ := pem.Decode(data)
	if block == nil || parse(block.Bytes) != nil {
		return errHalf
	}
	return nil
}

// make makes an authority and returns once it is on the disk.
func (f files) make(now time.Time, own []netip.Addr) (*Authority, error) {
	aside, err := f.setAside(now)
	if err != nil {
		return nil, fmt.Errorf("what is left of the authority for https can't be set aside: %w", err)
	}
	a, err := create(now, own)
	if err == nil {
		err = f.write(a)
	}
	if err != nil {
		return nil, fmt.Errorf("the authority for https can't be made: %w. "+
			"No session is touched by it: start without --tls, or mend that first", err)
	}
	a.SetAside = aside
	return a, nil
}

// setAside gives other names to what is there. They are on the disk before a new key is:
// with the certificate of before it would be no authority.
func (f files) setAside(now time.Time) (aside []string, err error) {
	for _, path := range []string{f.cert, f.key} {
		disk.RemoveHalves(path)
		to := path + asideFor + now.UTC().Format("20060102-150405")
		switch err := os.Rename(path, to); {
		case err == nil:
			aside = append(aside, to)
		case !errors.Is(err, fs.ErrNotExist):
			return nil, err
		}
	}
	return aside, disk.SyncFolder(filepath.Dir(f.cert))
}

// write writes the key first: a certificate is not given out before both are on the disk.
func (f files) write(a *Authority) error {
	key, err := x509.MarshalECPrivateKey(a.key)
	if err != nil {
		return err
	}
	if err := writePEM(f.key, "EC PRIVATE KEY", key); err != nil {
		return err
	}
	return writePEM(f.cert, "CERTIFICATE", a.cert.Raw)
}

func writePEM(path, kind string, der []byte) error {
	return disk.MakeFile(path, func(half string) error {
		return os.WriteFile(half, pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: der}), 0o600)
	})
}

// Package authority holds this computer's own certificate authority, by which other
// devices reach the server over https, and makes the server's certificate.
//
// It lies in the data folder as two PEM files: authority.crt, which each device is
// asked to trust once, and authority.key, which only its owner may read. The server's
// certificate is never stored.
package authority

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"errors"
	"fmt"
	"math/big"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"
)

const (
	years      = 10                  // that an authority lasts
	leafLasts  = 90 * 24 * time.Hour // tablets take 825 days at most
	leafRenews = 30 * 24 * time.Hour // before its end
)

// home are the networks that an authority may sign for: those that no one in the
// wide world has (RFC 1918, 3927, 6598, 4193, 4291).
var home = prefixes("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16",
	"100.64.0.0/10", "127.0.0.0/8", "fc00::/7", "::1/128")

func prefixes(written ...string) (list []netip.Prefix) {
	for _, p := range written {
		list = append(list, netip.MustParsePrefix(p))
	}
	return list
}

// An Authority is this computer's own: devices that trust it trust the
// certificates by which the server shows who it is. It may sign for servers only, under
// names in .local, in home networks and at the addresses that the computer had when it
// was made: a thief of its key can't pass for a bank, sign mail or programs, or log in
// anywhere. It is safe for concurrent use.
type Authority struct {
	// SetAside are the files of one before, which could not be used; devices that trusted
	// that one must trust this one anew.
	SetAside []string

	cert *x509.Certificate
	key  *ecdsa.PrivateKey

	mu   sync.Mutex
	leaf *tls.Certificate
	of   []netip.Addr // the addresses that leaf names
}

// Open reads the authority of a data folder, and makes it where there is none. Where one of
// its two files is missing or not whole no device can have use of the other: what is there is
// set aside, and another authority made. own are the computer's addresses; now is for the
// dates. An error is a whole sentence, without the last full stop, that says what to do.
func Open(folder string, now time.Time, own []netip.Addr) (*Authority, error) {
	f := files{filepath.Join(folder, certFile), filepath.Join(folder, keyFile)}
	a, err := f.read()
	switch {
	case errors.Is(err, errHalf):
		return f.make(now, own)
	case err != nil:
		return nil, fmt.Errorf("the authority for https can't be read: %w. "+
			"Make both its files readable for this user, then start again", err)
	case !a.key.PublicKey.Equal(a.cert.PublicKey):
		return nil, fmt.Errorf("the authority for https has a key and a certificate that do not "+
			"belong together. %s", moveAway(folder))
	case now.After(a.cert.NotAfter):
		ended := a.cert.NotAfter.Format("2 January 2006")
		return nil, fmt.Errorf("the authority for https ended on %s. %s", ended, moveAway(folder))
	}
	return a, nil
}

func moveAway(folder string) string {
	return fmt.Sprintf("Move %s and %s out of %s to have new ones made; devices must trust those anew",
		certFile, keyFile, folder)
}

func create(now time.Time, own []netip.Addr) (*Authority, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	number := serial()
	host, _ := os.Hostname()
	form := &x509.Certificate{
		SerialNumber: number,
		Subject:      pkix.Name{CommonName: "Cornerwise on " + host, SerialNumber: number.Text(36)[:8]},
		NotBefore:    now.Add(-time.Hour), NotAfter: now.AddDate(years, 0, 0),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true,
		KeyUsage:                    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		PermittedDNSDomainsCritical: true,
		PermittedDNSDomains:         []string{"local", "localhost"},
		// Verifiers take the use of an authority as the most that those below may have.
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		// To allow one that nobody has (RFC 2606) is to allow none, and is understood by all;
		// to exclude an empty name, which would say the same, is not.
		PermittedEmailAddresses: []string{nobody},
		PermittedURIDomains:     []string{nobody},
	}
	for _, p := range home {
		form.PermittedIPRanges = append(form.PermittedIPRanges, ipNet(p))
	}
	for _, a := range own {
		if !isHome(a) {
			form.PermittedIPRanges = append(form.PermittedIPRanges, ipNet(netip.PrefixFrom(a, a.BitLen())))
		}
	}
	der, err := x509.CreateCertificate(rand.Reader, form, form, &key.PublicKey, key)
	if err != nil {
		return nil, err
	}
	cert, err := x509.ParseCertificate(der)
	return &Authority{cert: cert, key: key}, err
}

// nobody is a domain that nobody can have.
const nobody = "nobody.invalid"

// Wide tells that the authority was made by an older program and may sign for more than
// servers.
func (a *Authority) Wide() bool {
	return !slices.Equal(a.cert.ExtKeyUsage, []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}) ||
		len(a.cert.UnknownExtKeyUsage) > 0
}

func serial() *big.Int {
	n, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
	if err != nil {
		panic(err) // crypto/rand never fails
	}
	return n.SetBit(n, 126, 1) // of one length, and never 0
}

func isHome(a netip.Addr) bool {
	return slices.ContainsFunc(home, func(p netip.Prefix) bool { return p.Contains(a) })
}

func ipNet(p netip.Prefix) *net.IPNet {
	return &net.IPNet{IP: p.Addr().AsSlice(), Mask: net.CIDRMask(p.Bits(), p.Addr().BitLen())}
}

// DER is the authority's certificate, which devices are asked to trust.
func (a *Authority) DER() []byte { return a.cert.Raw }

// maySignFor tells whether an address is in the range that the authority is held to.
func (a *Authority) maySignFor(addr netip.Addr) bool {
	return slices.ContainsFunc(a.cert.PermittedIPRanges, func(n *net.IPNet) bool {
		return n.Contains(addr.AsSlice())
	})
}

// Certificate is the server's, for the name ("" for none) and the addresses that the
// computer has now. A new one is made when the addresses change, and 30 days before it
// ends.
func (a *Authority) Certificate(now time.Time, name string, own []netip.Addr) (*tls.Certificate, error) {
	own = slices.DeleteFunc(slices.Clone(own), func(addr netip.Addr) bool {
		return !a.maySignFor(addr)
	})
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.leaf != nil && slices.Equal(a.of, own) && now.Before(a.leaf.Leaf.NotAfter.Add(-leafRenews)) {
		return a.leaf, nil
	}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	form := &x509.Certificate{
		SerialNumber: serial(), Subject: pkix.Name{CommonName: "Cornerwise"},
		NotBefore: now.Add(-time.Hour), NotAfter: now.Add(leafLasts),
		KeyUsage:    x509.KeyUsageDigitalSignature,
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		DNSNames:    []string{"localhost"},
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1), net.IPv6loopback},
	}
	if name != "" {
		form.DNSNames = append(form.DNSNames, name)
	}
	for _, addr := range own {
		form.IPAddresses = append(form.IPAddresses, addr.AsSlice())
	}
	der, err := x509.CreateCertificate(rand.Reader, form, a.cert, &key.PublicKey, a.key)
	if err != nil {
		return nil, err
	}
	leaf, err := x509.ParseCertificate(der)
	if err != nil {
		return nil, err
	}
	a.leaf = &tls.Certificate{Certificate: [][]byte{der, a.cert.Raw}, PrivateKey: key, Leaf: leaf}
	a.of = own
	return a.leaf, nil
}

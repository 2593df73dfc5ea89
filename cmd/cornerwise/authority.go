package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
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
	authorityCert = "authority.crt"
	authorityKey  = "authority.key"

	authorityLasts = 10 // years
	leafLasts      = 90 * 24 * time.Hour
	leafRenews     = 30 * 24 * time.Hour // before its end
)

// home are the networks that an authority may speak for: those that no one in the
// wide world has (RFC 1918, 3927, 6598, 4193, 4291).
var home = prefixes("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10",
	"127.0.0.0/8", "fc00::/7", "::1/128")

func prefixes(written ...string) (list []netip.Prefix) {
	for _, p := range written {
		list = append(list, netip.MustParsePrefix(p))
	}
	return list
}

// An authority is this computer's own: devices that trust it trust the
// certificates by which the server shows who it is. It can speak for names under
// .local, for home networks and for the addresses that the computer had when it
// was made, and for nothing else: stolen, it opens no bank.
type authority struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey

	mu   sync.Mutex
	leaf *tls.Certificate
	of   []netip.Addr // that the leaf is for
}

// openAuthority reads the authority of a data folder, and makes it where there is none.
func openAuthority(folder string, now time.Time, own []netip.Addr) (*authority, error) {
	certPath, keyPath := filepath.Join(folder, authorityCert), filepath.Join(folder, authorityKey)
	cert, certErr := readPEM(certPath)
	key, keyErr := readPEM(keyPath)
	switch {
	case errors.Is(certErr, fs.ErrNotExist) && errors.Is(keyErr, fs.ErrNotExist):
		a, err := newAuthority(now, own)
		if err == nil {
			err = a.save(certPath, keyPath)
		}
		if err != nil {
			return nil, fmt.Errorf("the authority for https can't be made: %w", err)
		}
		return a, nil
	case certErr != nil || keyErr != nil:
		return nil, fmt.Errorf("the authority for https can't be read: %w. %s", errors.Join(certErr, keyErr), moveAway(folder))
	}
	a := &authority{}
	var err error
	if a.cert, err = x509.ParseCertificate(cert); err == nil {
		a.key, err = x509.ParseECPrivateKey(key)
	}
	switch {
	case err != nil:
		return nil, fmt.Errorf("the authority for https can't be read: %w. %s", err, moveAway(folder))
	case !a.key.PublicKey.Equal(a.cert.PublicKey):
		return nil, fmt.Errorf("the authority for https is of two halves that are strangers. %s", moveAway(folder))
	case now.After(a.cert.NotAfter):
		return nil, fmt.Errorf("the authority for https ended on %s. %s", a.cert.NotAfter.Format("2 January 2006"), moveAway(folder))
	}
	return a, nil
}

func moveAway(folder string) string {
	return fmt.Sprintf("Move %s and %s out of %s to have new ones made; devices must trust those anew", authorityCert, authorityKey, folder)
}

func readPEM(path string) ([]byte, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	block, _ := pem.Decode(data)
	if block == nil {
		return nil, fmt.Errorf("%s is not PEM", filepath.Base(path))
	}
	return block.Bytes, nil
}

func newAuthority(now time.Time, own []netip.Addr) (*authority, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	number := serial()
	host, _ := os.Hostname()
	form := &x509.Certificate{
		SerialNumber: number,
		Subject:      pkix.Name{CommonName: "Cornerwise on " + host, SerialNumber: number.Text(36)[:8]},
		NotBefore:    now.Add(-time.Hour), NotAfter: now.AddDate(authorityLasts, 0, 0),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true,
		KeyUsage:                    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		PermittedDNSDomainsCritical: true,
		PermittedDNSDomains:         []string{"local", "localhost"},
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
	return &authority{cert: cert, key: key}, err
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

// save writes the key first: a certificate without its key would be of no use, and
// a key without its certificate has not been trusted by anyone.
func (a *authority) save(certPath, keyPath string) error {
	der, err := x509.MarshalECPrivateKey(a.key)
	if err != nil {
		return err
	}
	if err := os.WriteFile(keyPath, pem.EncodeToMemory(&pem.Block{Type: "EC PRIVATE KEY", Bytes: der}), 0o600); err != nil {
		return err
	}
	return os.WriteFile(certPath, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: a.cert.Raw}), 0o644)
}

// speaksFor tells whether the authority may vouch for an address.
func (a *authority) speaksFor(addr netip.Addr) bool {
	return slices.ContainsFunc(a.cert.PermittedIPRanges, func(n *net.IPNet) bool { return n.Contains(addr.AsSlice()) })
}

// certificate is for the name and the addresses that the computer has now. A new
// one is made when they change, and before it ends: within the 825 days that
// tablets take.
func (a *authority) certificate(now time.Time, name string, own []netip.Addr) (*tls.Certificate, error) {
	own = slices.DeleteFunc(slices.Clone(own), func(addr netip.Addr) bool { return !a.speaksFor(addr) })
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
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
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
	a.leaf, a.of = &tls.Certificate{Certificate: [][]byte{der, a.cert.Raw}, PrivateKey: key, Leaf: leaf}, own
	return a.leaf, nil
}

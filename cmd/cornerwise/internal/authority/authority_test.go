package authority_test

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"math/big"
	"net"
	"net/netip"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cornerwise/cmd/cornerwise/internal/authority"
)

var noon = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// A thief of the authority's key can't pass for a bank: whoever checks names as RFC 5280,
// 4.2.1.10 says refuses it.
func TestTheAuthoritySpeaksForHomeOnly(t *testing.T) {
	own := []netip.Addr{netip.MustParseAddr("192.168.7.2"), netip.MustParseAddr("203.0.113.9")}
	cert, roots, stolen := robbed(t, t.TempDir(), noon, own)
	for host, want := range map[string]bool{
		"cornerwise.local": true, "localhost": true, "192.168.7.2": true, "10.1.2.3": true, "fd00::7": true, "203.0.113.9": true,
		"bank.example": false, "local.example": false, "203.0.113.10": false, "2001:db8::1": false, "8.8.8.8": false,
	} {
		form := &x509.Certificate{SerialNumber: big.NewInt(1), NotBefore: noon, NotAfter: noon.Add(time.Hour), ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}}
		if ip := net.ParseIP(host); ip != nil {
			form.IPAddresses = []net.IP{ip}
		} else {
			form.DNSNames = []string{host}
		}
		der, err := x509.CreateCertificate(rand.Reader, form, cert, &stolen.PublicKey, stolen)
		if err != nil {
			t.Fatal(err)
		}
		leaf, _ := x509.ParseCertificate(der)
		_, err = leaf.Verify(x509.VerifyOptions{Roots: roots, DNSName: host, CurrentTime: noon.Add(time.Minute)})
		if (err == nil) != want {
			t.Errorf("a certificate for %s: %v, want it good: %v", host, err, want)
		}
	}
}

// A thief of the key makes certificates of all kinds. Of these only servers' are good: whoever
// checks uses refuses the others, those without a use for anything else too, and names that
// are no hosts'.
func TestTheAuthoritySpeaksForServersOnly(t *testing.T) {
	folder, now := t.TempDir(), time.Now()
	cert, roots, stolen := robbed(t, folder, now, nil)
	server, client, mail, code := x509.ExtKeyUsageServerAuth, x509.ExtKeyUsageClientAuth, x509.ExtKeyUsageEmailProtection, x509.ExtKeyUsageCodeSigning
	purposes := map[x509.ExtKeyUsage]string{server: "sslserver", client: "sslclient", mail: "smimesign", code: "codesign"}
	bank, _ := url.Parse("https://bank.example/")
	here, _ := url.Parse("https://cornerwise.local/")
	for _, c := range []struct {
		name string
		uses []x509.ExtKeyUsage // that it claims
		as   x509.ExtKeyUsage   // that it is checked for
		put  func(*x509.Certificate)
		want bool
	}{
		{"a server", []x509.ExtKeyUsage{server}, server, nil, true},
		{"a client", []x509.ExtKeyUsage{client}, client, nil, false},
		{"a writer of mail", []x509.ExtKeyUsage{mail}, mail, nil, false},
		{"a maker of programs", []x509.ExtKeyUsage{code}, code, nil, false},
		{"one without a use, as a client", nil, client, nil, false},
		{"one without a use, as a writer of mail", nil, mail, nil, false},
		{"one without a use, as a maker of programs", nil, code, nil, false},
		{"a server with an address of mail", []x509.ExtKeyUsage{server}, server, func(f *x509.Certificate) { f.EmailAddresses = []string{"x@bank.example"} }, false},
		{"a server with one of mail in .local", []x509.ExtKeyUsage{server}, server, func(f *x509.Certificate) { f.EmailAddresses = []string{"x@cornerwise.local"} }, false},
		{"a server with a URI", []x509.ExtKeyUsage{server}, server, func(f *x509.Certificate) { f.URIs = []*url.URL{bank} }, false},
		{"a server with a URI in .local", []x509.ExtKeyUsage{server}, server, func(f *x509.Certificate) { f.URIs = []*url.URL{here} }, false},
	} {
		form := &x509.Certificate{SerialNumber: big.NewInt(1), NotBefore: now.Add(-time.Minute), NotAfter: now.Add(time.Hour),
			Subject: pkix.Name{CommonName: "thief"}, KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: c.uses, DNSNames: []string{"cornerwise.local"}}
		if c.put != nil {
			c.put(form)
		}
		der, err := x509.CreateCertificate(rand.Reader, form, cert, &stolen.PublicKey, stolen)
		if err != nil {
			t.Fatal(err)
		}
		leaf, err := x509.ParseCertificate(der)
		if err != nil {
			t.Fatal(err)
		}
		_, err = leaf.Verify(x509.VerifyOptions{Roots: roots, CurrentTime: now, KeyUsages: []x509.ExtKeyUsage{c.as}})
		if (err == nil) != c.want {
			t.Errorf("%s: %v, want it good: %t", c.name, err, c.want)
		}
		// Someone else's eye: OpenSSL.
		if _, err := exec.LookPath("openssl"); err == nil {
			trusted, checked := filepath.Join(folder, "trusted.pem"), filepath.Join(folder, "checked.pem")
			for file, der := range map[string][]byte{trusted: cert.Raw, checked: der} {
				if err := os.WriteFile(file, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			out, err := exec.Command("openssl", "verify", "-x509_strict", "-purpose", purposes[c.as], "-CAfile", trusted, checked).CombinedOutput()
			if strings.Contains(string(out), "codesign") && strings.Contains(string(out), "nrecognized") {
				continue // an older one that does not know of it
			}
			if (err == nil) != c.want {
				t.Errorf("%s, to OpenSSL: %s, want it good: %t", c.name, out, c.want)
			}
		}
	}
	if again, err := authority.Open(folder, now, nil); err != nil || again.Wide() {
		t.Errorf("opened again: %v, want it, and not as an older, wider one", err)
	}
}

// An authority of before stays, as devices trust it, and is known for what it is.
func TestAnOlderAuthorityStaysAndIsWide(t *testing.T) {
	folder := t.TempDir()
	if _, err := authority.Open(folder, noon, nil); err != nil {
		t.Fatal(err)
	}
	its := key(t, folder)
	form := &x509.Certificate{SerialNumber: big.NewInt(7), Subject: pkix.Name{CommonName: "Cornerwise"}, NotBefore: noon, NotAfter: noon.AddDate(10, 0, 0),
		IsCA: true, BasicConstraintsValid: true, KeyUsage: x509.KeyUsageCertSign, PermittedDNSDomainsCritical: true, PermittedDNSDomains: []string{"local", "localhost"}}
	der, err := x509.CreateCertificate(rand.Reader, form, form, &its.PublicKey, its)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, "authority.crt")
	if err := os.WriteFile(file, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600); err != nil {
		t.Fatal(err)
	}
	a, err := authority.Open(folder, noon, nil)
	if err != nil || !bytes.Equal(a.DER(), der) || !a.Wide() {
		t.Errorf("Open: %v, want the older one, known to be wide", err)
	}
}

// robbed is a new authority's certificate, what trusts it, and its stolen key.
func robbed(t *testing.T, folder string, now time.Time, own []netip.Addr) (*x509.Certificate, *x509.CertPool, *ecdsa.PrivateKey) {
	t.Helper()
	a, err := authority.Open(folder, now, own)
	if err != nil {
		t.Fatal(err)
	}
	cert, err := x509.ParseCertificate(a.DER())
	if err != nil {
		t.Fatal(err)
	}
	roots := x509.NewCertPool()
	roots.AddCert(cert)
	return cert, roots, key(t, folder)
}

// key is the authority's, as a thief reads it from its file.
func key(t *testing.T, folder string) *ecdsa.PrivateKey {
	t.Helper()
	file, err := os.ReadFile(filepath.Join(folder, "authority.key"))
	if err != nil {
		t.Fatal(err)
	}
	block, _ := pem.Decode(file)
	if block == nil {
		t.Fatalf("authority.key holds %q, want PEM", file)
	}
	key, err := x509.ParseECPrivateKey(block.Bytes)
	if err != nil {
		t.Fatal(err)
	}
	return key
}

// Tablets take 825 days at most for an authority that was added by hand.
func TestTheCertificateFollowsTheAddressesAndTheTime(t *testing.T) {
	addr := netip.MustParseAddr
	a, err := authority.Open(t.TempDir(), noon, nil)
	if err != nil {
		t.Fatal(err)
	}
	get := func(after time.Duration, own ...netip.Addr) *x509.Certificate {
		c, err := a.Certificate(noon.Add(after), "cornerwise.local", own)
		if err != nil {
			t.Fatal(err)
		}
		return c.Leaf
	}
	first := get(0, addr("192.168.7.2"), addr("8.8.8.8"))
	if err := first.VerifyHostname("192.168.7.2"); err != nil {
		t.Error(err)
	}
	if first.VerifyHostname("8.8.8.8") == nil {
		t.Errorf("the certificate is for an address that the authority may not speak for: the whole of it would be refused")
	}
	if lasts := first.NotAfter.Sub(first.NotBefore); lasts > 825*24*time.Hour {
		t.Errorf("the certificate lasts %v, want 825 days at most", lasts)
	}
	if get(50*24*time.Hour, addr("192.168.7.2")) != first {
		t.Errorf("50 days later: another certificate, want the same")
	}
	if moved := get(0, addr("192.168.9.9")); moved.VerifyHostname("192.168.9.9") != nil {
		t.Errorf("at another address: got %v, want one for it", moved.IPAddresses)
	}
	if later := get(61*24*time.Hour, addr("192.168.9.9")); later.NotAfter.Before(noon.Add(100 * 24 * time.Hour)) {
		t.Errorf("61 days later: it ends %v, want a new one", later.NotAfter)
	}
}

func TestAnAuthorityThatCanNotBeUsed(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(folder string)
		now   time.Time
		says  string
	}{
		{"another's key", func(f string) {
			other := f + "-other"
			os.Mkdir(other, 0o700)
			authority.Open(other, noon, nil)
			os.Rename(filepath.Join(other, "authority.key"), filepath.Join(f, "authority.key"))
		}, noon, "do not belong together"},
		{"its ten years over", func(string) {}, noon.AddDate(11, 0, 0), "ended on 1 March 2036"},
	} {
		folder := filepath.Join(t.TempDir(), "data")
		os.Mkdir(folder, 0o700)
		if _, err := authority.Open(folder, noon, nil); err != nil {
			t.Fatal(err)
		}
		c.spoil(folder)
		if _, err := authority.Open(folder, c.now, nil); err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "Move authority.crt") {
			t.Errorf("%s: got %v, want %q and what to do", c.name, err, c.says)
		}
	}
}

package authority_test

import (
	"crypto/ecdsa"
	"crypto/rand"
	"crypto/x509"
	"encoding/pem"
	"math/big"
	"net"
	"net/netip"
	"os"
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
	folder := t.TempDir()
	a, err := authority.Open(folder, noon, own)
	if err != nil {
		t.Fatal(err)
	}
	cert, err := x509.ParseCertificate(a.DER())
	if err != nil {
		t.Fatal(err)
	}
	roots := x509.NewCertPool()
	roots.AddCert(cert)
	stolen := key(t, folder)
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

package addresses_test

import (
	"net/netip"
	"slices"
	"testing"

	"cornerwise/cmd/cornerwise/internal/addresses"
)

func TestOneAddressIsReachedByItself(t *testing.T) {
	for listens, want := range map[string][]string{
		"127.0.0.1":        nil,
		"::1":              nil,
		"::ffff:127.0.0.1": nil,
		"192.168.7.2":      {"192.168.7.2"},
		"::ffff:10.0.0.7":  {"10.0.0.7"},
		"fd00::7":          {"fd00::7"},
	} {
		var got []string
		for _, a := range addresses.Of(netip.MustParseAddr(listens)) {
			got = append(got, a.String())
		}
		if !slices.Equal(got, want) {
			t.Errorf("Of(%s) = %v, want %v", listens, got, want)
		}
	}
}

// Loopback leads no other device here, a link-local IPv6 address needs a zone, and
// where there is an IPv4 address no one is asked to type an IPv6 one.
func TestAllAddressesAreThoseThatOthersCanUse(t *testing.T) {
	for _, listens := range []string{"0.0.0.0", "::"} {
		all := addresses.Of(netip.MustParseAddr(listens))
		for _, a := range all {
			if a.IsLoopback() || a.IsLinkLocalUnicast() || a.Is4() != all[0].Is4() {
				t.Errorf("Of(%s) = %v, want no %s", listens, all, a)
			}
		}
	}
}

package announce_test

import (
	"strings"
	"testing"

	"cornerwise/cmd/cornerwise/internal/announce"
)

// A label has 1 to 63 letters, digits and hyphens, none of these at its ends
// (RFC 1035, 2.3.4; RFC 1123, 2.1), and one label stands before .local.
func TestValidNames(t *testing.T) {
	for name, want := range map[string]bool{
		"cornerwise.local":                 true,
		"sewing-7.local":                   true,
		"7.local":                          true,
		strings.Repeat("a", 63) + ".local": true,
		strings.Repeat("a", 64) + ".local": false,
		"":                                 false,
		".local":                           false,
		"local":                            false,
		"-attic.local":                     false,
		"attic-.local":                     false,
		"Attic.local":                      false,
		"sewing room.local":                false,
		"upper.attic.local":                false,
		"attic.example":                    false,
		"attic.local.":                     false,
	} {
		if got := announce.Valid(name); got != want {
			t.Errorf("Valid(%q) = %v, want %v", name, got, want)
		}
	}
}

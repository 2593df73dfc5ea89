package datafolder_test

import (
	"path/filepath"
	"testing"

	"cornerwise/cmd/cornerwise/internal/datafolder"
)

func TestDataFolder(t *testing.T) {
	for _, c := range []struct {
		system string
		env    map[string]string
		want   string
	}{
		{"linux", map[string]string{"XDG_DATA_HOME": "/d", "HOME": "/h"}, "/d/cornerwise"},
		{"linux", map[string]string{"XDG_DATA_HOME": "relative", "HOME": "/h"}, "/h/.local/share/cornerwise"},
		{"linux", map[string]string{"HOME": "/h"}, "/h/.local/share/cornerwise"},
		{"darwin", map[string]string{"HOME": "/h"}, "/h/Library/Application Support/cornerwise"},
		{"windows", map[string]string{"LocalAppData": "/l"}, "/l/cornerwise"},
		{"linux", nil, ""},
	} {
		got := datafolder.Usual(c.system, func(name string) string { return c.env[name] })
		if got != filepath.FromSlash(c.want) {
			t.Errorf("Usual(%s, %v): got %q, want %q", c.system, c.env, got, c.want)
		}
	}
}

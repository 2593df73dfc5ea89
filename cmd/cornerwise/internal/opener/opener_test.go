package opener_test

import (
	"testing"

	"cornerwise/cmd/cornerwise/internal/opener"
)

func TestAPageIsOpenedOnlyWhereItIsSeen(t *testing.T) {
	for _, c := range []struct {
		name, system string
		env          map[string]string
		want         bool
	}{
		{"a desktop", "linux", map[string]string{"DISPLAY": ":0"}, true},
		{"a newer desktop", "linux", map[string]string{"WAYLAND_DISPLAY": "wayland-0"}, true},
		{"a board without a screen", "linux", nil, false},
		{"a board without a screen", "freebsd", nil, false},
		{"a desktop, from elsewhere", "linux", map[string]string{"DISPLAY": "localhost:10.0", "SSH_CONNECTION": "x"}, false},
		{"Windows", "windows", nil, true},
		{"a Mac", "darwin", nil, true},
		{"a Mac, from elsewhere", "darwin", map[string]string{"SSH_TTY": "/dev/ttys001"}, false},
	} {
		if got := opener.Seen(c.system, func(name string) string { return c.env[name] }); got != c.want {
			t.Errorf("%s (%s): Seen = %v, want %v", c.name, c.system, got, c.want)
		}
	}
}

package authority_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cornerwise/cmd/cornerwise/internal/authority"
)

// After a loss of power each of the two files may be gone, empty, or there in part. No device
// can have use of what is left, so another authority is made, once, and that is told.
func TestAnAuthorityThatIsNotWholeIsMadeAnew(t *testing.T) {
	whole := func(data []byte) []byte { return data }
	gone := func([]byte) []byte { return nil }
	empty := func([]byte) []byte { return []byte{} }
	half := func(data []byte) []byte { return data[:len(data)/2] }
	zeros := func(data []byte) []byte { return make([]byte, len(data)) }
	otherBytes := func(data []byte) []byte { return bytes.ReplaceAll(data, []byte("M"), []byte("N")) }
	for _, c := range []struct {
		name      string
		cert, key func([]byte) []byte
		aside     int
	}{
		{"both whole", whole, whole, 0},
		{"neither there", gone, gone, 0},
		{"no key", whole, gone, 1},
		{"no certificate", gone, whole, 1},
		{"both empty", empty, empty, 2},
		{"half a key", whole, half, 2},
		{"half a certificate", half, whole, 2},
		{"a certificate of zeros, no key", zeros, gone, 1},
		{"a certificate of other bytes", otherBytes, whole, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			folder := t.TempDir()
			first, err := authority.Open(folder, noon, nil)
			if err != nil || len(first.SetAside) != 0 {
				t.Fatalf("Open of an empty folder: set aside %v, %v", first.SetAside, err)
			}
			left := map[string][]byte{}
			for name, harm := range map[string]func([]byte) []byte{"authority.crt": c.cert, "authority.key": c.key} {
				path := filepath.Join(folder, name)
				data, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				os.Remove(path)
				if data = harm(data); data != nil {
					left[name] = data
					if err := os.WriteFile(path, data, 0o600); err != nil {
						t.Fatal(err)
					}
				}
			}
			second, err := authority.Open(folder, noon.Add(time.Hour), nil)
			if err != nil || len(second.SetAside) != c.aside {
				t.Fatalf("Open: set aside %v, %v, want %d files", second.SetAside, err, c.aside)
			}
			if same, want := bytes.Equal(first.DER(), second.DER()), c.name == "both whole"; same != want {
				t.Errorf("Open: the same authority is %t, want %t", same, want)
			}
			for _, path := range second.SetAside {
				name, _, _ := strings.Cut(filepath.Base(path), ".set-aside-")
				if kept, err := os.ReadFile(path); err != nil || !bytes.Equal(kept, left[name]) {
					t.Errorf("%s: %q, %v, want what was left of it", filepath.Base(path), kept, err)
				}
			}
			third, err := authority.Open(folder, noon.Add(2*time.Hour), nil)
			if err != nil || !bytes.Equal(second.DER(), third.DER()) || len(third.SetAside) != 0 {
				t.Errorf("Open once more: %v, set aside %v, want the authority of before", err, third.SetAside)
			}
			if entries, _ := os.ReadDir(folder); len(entries) != 2+c.aside {
				t.Errorf("the folder holds %v, want the two files and what was set aside", entries)
			}
		})
	}
}

// What can't be read may be whole, and trusted.
func TestAnAuthorityThatCanNotBeReadIsLeftAlone(t *testing.T) {
	folder := t.TempDir()
	if _, err := authority.Open(folder, noon, nil); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "authority.key")
	os.Remove(path)
	os.Mkdir(path, 0o700) // as unreadable as can be, for root too
	if _, err := authority.Open(folder, noon, nil); err == nil || !strings.Contains(err.Error(), "readable for this user") {
		t.Errorf("Open: %v, want a sentence that says what to do", err)
	}
	if entries, _ := os.ReadDir(folder); len(entries) != 2 {
		t.Errorf("the folder holds %v, want it as it was", entries)
	}
}

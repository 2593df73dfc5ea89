package web_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The package docs say of each threat and fault which tests hold it. Each of these tests is
// there under that name.
func TestTheTestsThatPackageDocsNameExist(t *testing.T) {
	const top = "../.."
	given := map[string]bool{}
	var docs []string
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && path != top && strings.HasPrefix(d.Name(), ".") {
			return filepath.SkipDir
		}
		inside, _ := filepath.Rel(top, path)
		room := strings.Split(filepath.ToSlash(inside), "/")[0]
		switch {
		case d.Name() == "doc.go" && (room == "session" || room == "cmd"):
			docs = append(docs, path)
		case strings.HasSuffix(path, "_test.go"):
			for _, m := range regexp.MustCompile(`(?m)^func ((?:Test|Fuzz)[A-Z]\w*)\(`).FindAllStringSubmatch(read(t, path), -1) {
				given[m[1]] = true
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	named := regexp.MustCompile(`\b(?:Test|Fuzz)[A-Z]\w*`)
	here := 0
	for _, path := range docs {
		for _, name := range named.FindAllString(read(t, path), -1) {
			if !given[name] {
				t.Errorf("%s names %s, and there is no such test", path, name)
			}
			if path == filepath.Join(top, "session", "web", "doc.go") {
				here++
			}
		}
	}
	if here < 30 {
		t.Errorf("session/web/doc.go names %d tests, want those of its threats: is this test reading it?", here)
	}
}

func read(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

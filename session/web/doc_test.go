package web_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

const top = "../.." // of the tree

// goFiles are all Go files but those in hidden folders, by path from the top.
func goFiles(t *testing.T) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && path != top && strings.HasPrefix(d.Name(), ".") {
			return filepath.SkipDir
		}
		if strings.HasSuffix(path, ".go") {
			inside, err := filepath.Rel(top, path)
			files = append(files, filepath.ToSlash(inside))
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// packageDocs are the package docs of all rooms, by path from the top; "" where there is none.
func packageDocs(t *testing.T) map[string]string {
	t.Helper()
	docs := map[string]string{}
	for _, path := range goFiles(t) {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		const mode = parser.PackageClauseOnly | parser.ParseComments
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(top, path), nil, mode)
		if err != nil {
			t.Fatal(err)
		}
		docs[filepath.ToSlash(filepath.Dir(path))] += file.Doc.Text()
	}
	return docs
}

func TestEveryRoomHasAPackageDoc(t *testing.T) {
	for room, doc := range packageDocs(t) {
		if doc == "" {
			t.Errorf("%s has no package doc", room)
		}
	}
}

// The package docs say of each threat and fault, and of some rules, which tests hold it. Each
// of these tests is there under that name.
func TestTheTestsThatPackageDocsNameExist(t *testing.T) {
	const kinds = `(?:Test|Fuzz|Benchmark)[A-Z]\w*`
	given := map[string]bool{}
	test := regexp.MustCompile(`(?m)^func (` + kinds + `)\(`)
	for _, path := range goFiles(t) {
		if strings.HasSuffix(path, "_test.go") {
			for _, m := range test.FindAllStringSubmatch(read(t, filepath.Join(top, path)), -1) {
				given[m[1]] = true
			}
		}
	}
	named := regexp.MustCompile(`\b` + kinds)
	count := map[string]int{}
	for room, doc := range packageDocs(t) {
		for _, name := range named.FindAllString(doc, -1) {
			count[room]++
			if !given[name] {
				t.Errorf("the package doc of %s names %s, and there is no such test", room, name)
			}
		}
	}
	for room, least := range map[string]int{"session": 30, "session/web": 60, "static": 3} {
		if count[room] < least {
			t.Errorf("the package doc of %s names %d tests, want %d or more: is this test reading it?",
				room, count[room], least)
		}
	}
}

// A file that a package doc names lies in its room, or there from the top of the tree.
func TestTheFilesThatPackageDocsNameExist(t *testing.T) {
	named := regexp.MustCompile(`[\w/]+\.(?:go|js|css|html)\b`)
	count := 0
	for room, doc := range packageDocs(t) {
		for _, name := range named.FindAllString(doc, -1) {
			count++
			_, here := os.Stat(filepath.Join(top, room, name))
			_, fromTop := os.Stat(filepath.Join(top, name))
			if here != nil && fromTop != nil {
				t.Errorf("the package doc of %s names %s, and there is no such file", room, name)
			}
		}
	}
	if count < 50 {
		t.Errorf("the package docs name %d files, want 50 or more: is this test reading them?", count)
	}
}

// The guide for whoever changes the program is short, and what it names is there.
func TestTheGuideIsShortAndTrue(t *testing.T) {
	guide := read(t, filepath.Join(top, "DEVELOPERS.md"))
	if len(guide) > 10<<10 {
		t.Errorf("DEVELOPERS.md has %d bytes, want 10 KB or less", len(guide))
	}
	for i, line := range strings.Split(guide, "\n") {
		if utf8.RuneCountInString(line) > 100 {
			t.Errorf("line %d of DEVELOPERS.md has over 100 characters", i+1)
		}
	}
	var tests strings.Builder
	files := map[string]bool{}
	for _, room := range []string{"calc", "steps", "session", "static", "cmd", "testdata", ".ci"} {
		err := filepath.WalkDir(filepath.Join(top, room), func(path string, d fs.DirEntry, err error) error {
			if err == nil && strings.HasSuffix(path, "_test.go") {
				tests.WriteString(read(t, path))
			}
			inside, _ := filepath.Rel(top, path)
			for at := filepath.ToSlash(inside); ; {
				files[at] = true
				_, rest, more := strings.Cut(at, "/")
				if !more {
					return err
				}
				at = rest
			}
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range regexp.MustCompile(`\bTest[A-Z]\w*`).FindAllString(guide, -1) {
		if !strings.Contains(tests.String(), "func "+name+"(") {
			t.Errorf("DEVELOPERS.md names %s, and there is no such test", name)
		}
	}
	named := regexp.MustCompile("`([\\w/.]+\\.(?:go|js|css|html|md))`").FindAllStringSubmatch(guide, -1)
	if len(named) < 30 {
		t.Errorf("DEVELOPERS.md names %d files, want 30 or more: is this test reading it?", len(named))
	}
	for _, name := range named {
		if !files[name[1]] {
			t.Errorf("DEVELOPERS.md names %s, and there is no such file", name[1])
		}
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

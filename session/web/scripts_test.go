package web

import (
	"regexp"
	"strings"
	"testing"

	"cornerwise/static"
)

// The scripts of a bundle are one script in the page: two that give one name to two
// things would silently take each other's.
func TestNamesInAScriptAreGivenOnce(t *testing.T) {
	given := regexp.MustCompile(`(?m)^(?:function|const|let) ([A-Za-z]+)`)
	for name, files := range static.Bundles {
		if !strings.HasSuffix(name, ".js") {
			continue
		}
		by := map[string]string{}
		for _, file := range files {
			for _, m := range given.FindAllStringSubmatch(string(readFile(file)), -1) {
				if first := by[m[1]]; first != "" {
					t.Errorf("%s: %s is given in %s and again in %s", name, m[1], first, file)
				}
				by[m[1]] = file
			}
		}
	}
}

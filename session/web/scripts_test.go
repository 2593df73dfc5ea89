package web

import (
	"maps"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/evanw/esbuild/pkg/api"

	"cornerwise/static"
)

// What an old tablet's browser can't parse it leaves out whole: one newer token, and
// the page does nothing. As they are sent, scripts are ES2015; only the service
// worker, which browsers of that age have not got, is ES2017. A compiler that writes
// newer syntax in older words has nothing to do. (ECMA-262, 6th and 8th edition.)
func TestScriptsAndStylesAreOfOldWords(t *testing.T) {
	check := func(name string, data []byte, oldest api.Target) {
		made := func(target api.Target, engines []api.Engine) string {
			loader := api.LoaderJS
			if path.Ext(name) == ".css" {
				loader = api.LoaderCSS
			}
			res := api.Transform(string(data), api.TransformOptions{Loader: loader, Target: target, Engines: engines})
			for _, m := range append(res.Errors, res.Warnings...) {
				t.Errorf("%s: %s", name, m.Text)
			}
			return string(res.Code)
		}
		// The oldest that gets the pages, by the floor that is known for tablets.
		old := []api.Engine{{Name: api.EngineIOS, Version: "12.5"}}
		if path.Ext(name) == ".js" {
			old = nil
		}
		want, got := made(api.ESNext, nil), made(oldest, old)
		if got != want {
			at := 0
			for at < min(len(got), len(want)) && got[at] == want[at] {
				at++
			}
			t.Errorf("%s has newer syntax than its readers: %.300s", name, want[max(0, at-40):])
		}
	}
	for name, a := range assets() {
		if ext := path.Ext(name); ext == ".js" || ext == ".css" {
			check(name, a.data, api.ES2015)
		}
	}
	check(static.Worker, readFile(static.Worker), api.ES2017)
}

// The scripts of a bundle are one script in the page, and those of a session's page share
// their names too: two that give one name to two things would take each other's, or not run.
func TestNamesInAScriptAreGivenOnce(t *testing.T) {
	given := regexp.MustCompile(`(?m)^(?:function|const|let) ([A-Za-z]+)`)
	pages := maps.Clone(static.Bundles)
	for _, name := range []string{"screen.js", "session.js", "menu.js", "keys.js", "voice.js", "awake.js", "words.js", "count.js"} {
		pages["a session's page.js"] = append(pages["a session's page.js"], static.Bundles[name]...)
	}
	for name, files := range pages {
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

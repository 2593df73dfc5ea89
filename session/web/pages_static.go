package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"mime"
	"net/http"
	"path"
	"strings"
	"sync"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/tdewolff/minify/v2"
	"github.com/tdewolff/minify/v2/css"
	"github.com/tdewolff/minify/v2/js"

	"cornerwise/static"
)

// oldestScript keeps the minifier to the syntax that the scripts are written in.
const oldestScript = 2015

// An asset is a file as it is sent. Its hash is in its address, so that a device
// may keep it for ever and still gets a new one at once.
type asset struct {
	data []byte
	hash string
}

// assets are made on the first use: the command's other words need none.
var assets = sync.OnceValue(loadAssets)

func loadAssets() map[string]asset {
	all := map[string]asset{}
	add := func(name string, data []byte) {
		sum := sha256.Sum256(data)
		all[name] = asset{data, hex.EncodeToString(sum[:6])}
	}
	add(static.Font, readFile(static.Font))
	add("font-OFL.txt", readFile("font-OFL.txt"))
	add(static.Film, readFile(static.Film))
	for _, name := range static.Icons {
		add(name, readFile(name))
	}
	add("manifest.webmanifest", manifestOf(all))
	for name, files := range static.Bundles {
		var data []byte
		for _, f := range files {
			data = append(append(data, readFile(f)...), '\n')
		}
		data = small(path.Ext(name)[1:], data)
		// The page preloads the font by the same address.
		hashed := static.Font + "?" + all[static.Font].hash
		add(name, bytes.ReplaceAll(data, []byte(static.Font), []byte(hashed)))
	}
	return all
}

// small is a script (js) or style (css) without what only people need.
//
// The minifier is kept because the page of twelve borders needs it: its bar is 100,000 bytes
// over the wire, and TestASessionPageIsLight measured 97,612 with it, 101,131 where only lines
// of comment and indents are left out, 104,926 as the files stand. That is 7.3 KB a device and
// version, of 27.1 KB of styles and scripts. It once wrote a newer operator than old tablets
// read, which is why it is told a version, and why TestScriptsAndStylesAreOfOldWords checks
// what is sent and not what is written.
func small(kind string, data []byte) []byte {
	m := minify.New()
	m.Add("js", &js.Minifier{Version: oldestScript})
	m.Add("css", &css.Minifier{})
	out, err := m.Bytes(kind, data)
	if err != nil {
		panic(err) // embedded too, and every one is asked for by a test
	}
	return out
}

func readFile(name string) []byte {
	data, err := static.Files.ReadFile(name)
	if err != nil {
		panic(err) // it is embedded, or the program would not have been built
	}
	return data
}

func assetURL(name string) (string, error) {
	a, ok := assets()[name]
	if !ok {
		return "", fmt.Errorf("no asset %q", name)
	}
	return "/static/" + name + "?" + a.hash, nil
}

func (s *Server) asset(w http.ResponseWriter, r *http.Request) {
	name := chi.URLParam(r, "name")
	a, ok := assets()[name]
	if !ok {
		s.unknownPath(w, r)
		return
	}
	kind := mime.TypeByExtension(path.Ext(name))
	switch path.Ext(name) { // systems disagree on these
	case ".js":
		kind = "text/javascript; charset=utf-8"
	case ".woff2":
		kind = "font/woff2"
	case ".mp4":
		kind = "video/mp4"
	case ".webmanifest":
		kind = "application/manifest+json"
	case ".svg":
		kind = "image/svg+xml"
	}
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("ETag", `"`+a.hash+`"`)
	h.Set("Cache-Control", "no-cache")
	if strings.HasPrefix(r.URL.RawQuery, a.hash) {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(a.data))
}

// manifestOf is what a device reads that puts the first page on its home screen: it opens there
// without the browser's bars, and turns with the device.
func manifestOf(all map[string]asset) []byte {
	type icon struct {
		Src     string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose"`
	}
	address := func(name string) string { return "/static/" + name + "?" + all[name].hash }
	data, err := json.Marshal(map[string]any{
		"id": "/", "name": "Cornerwise", "short_name": "Cornerwise", "lang": "en",
		"description": "Mitered borders, one corner at a time",
		"start_url":   "/", "scope": "/", "display": "fullscreen", "orientation": "any",
		"background_color": "#faf6ec", "theme_color": "#faf6ec",
		"icons": []icon{
			{address("icon.svg"), "any", "image/svg+xml", "any"},
			{address("icon-192.png"), "192x192", "image/png", "any maskable"},
			{address("icon-512.png"), "512x512", "image/png", "any maskable"},
		},
	})
	if err != nil {
		panic(err) // nothing in it can't be written
	}
	return data
}

package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
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

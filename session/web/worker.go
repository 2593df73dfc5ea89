package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"sort"
	"strings"
	"sync"
	"time"

	"cornerwise/static"
)

// workerScript is the service worker, with the addresses of this version's assets
// before it. Another version is another script, which is how a browser tells.
var workerScript = sync.OnceValue(func() asset {
	var all []string
	for name, a := range assets() {
		// A film is asked for in ranges, which what a worker keeps does not answer to.
		if !strings.HasSuffix(name, ".txt") && name != static.Film {
			all = append(all, "/static/"+name+"?"+a.hash)
		}
	}
	sort.Strings(all)
	list, err := json.Marshal(all)
	if err != nil {
		panic(err) // names and hashes
	}
	data := append([]byte("const assets="+string(list)+";\n"), small("js", readFile(static.Worker))...)
	sum := sha256.Sum256(data)
	return asset{data, hex.EncodeToString(sum[:6])}
})

// worker is at the top, for a service worker rules over what is below its address.
func (s *Server) worker(w http.ResponseWriter, r *http.Request) {
	a := workerScript()
	h := w.Header()
	h.Set("Content-Type", "text/javascript; charset=utf-8")
	h.Set("ETag", `"`+a.hash+`"`)
	h.Set("Cache-Control", "no-cache")
	http.ServeContent(w, r, static.Worker, time.Time{}, bytes.NewReader(a.data))
}

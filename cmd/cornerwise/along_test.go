package main

import (
	"io"
	"net/http"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// The file of all quilts goes to another computer by its page, in a real browser.
func TestAllQuiltsAreTakenInByABrowser(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	from, to := start(t, t.TempDir(), "--demo"), start(t, t.TempDir())
	res, err := http.Get(from.url + "/along/quilts")
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "my.quilts")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	d := b.tablet(1080, 810)
	d.open(from.url + "/along")
	d.shot("along")
	for _, want := range []string{"1 quilt added", "Nothing was new"} {
		d.open(to.url + "/along")
		d.do(chromedp.SetUploadFiles("#file", []string{file}))
		d.tap(".along form button")
		d.until(want, `[...document.querySelectorAll(".taken h2")].some(h => h.textContent.includes(%q))`, want)
		d.shot("along-taken")
	}
	d.resize(400, 800)
	d.shot("along-taken")
	d.open(to.url + "/devices")
	d.shot("devices-here")
	d.resize(1080, 810)
	d.open(to.url + "/devices")
	js[bool](d, `(() => { const r = document.querySelector(".reach"); if (r) { r.open = true; } return true; })()`)
	d.shot("devices-here")
}

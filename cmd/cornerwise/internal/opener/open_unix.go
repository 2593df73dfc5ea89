//go:build !windows

package opener

import (
	"os/exec"
	"runtime"
	"syscall"
)

// openers open a page in the default browser; the first that is there does it.
func openers() []string {
	if runtime.GOOS == "darwin" {
		return []string{"open"}
	}
	return []string{"xdg-open", "x-www-browser", "wslview"}
}

// Open opens a page in the default browser, and waits for nothing.
func Open(url string) (err error) {
	for _, name := range openers() {
		var path string
		if path, err = exec.LookPath(name); err != nil {
			continue
		}
		opener := exec.Command(path, url)
		// A session of its own: Ctrl-C in the window is for this program alone.
		opener.SysProcAttr = &syscall.SysProcAttr{Setsid: true}
		if err = opener.Start(); err != nil {
			continue
		}
		go opener.Wait() // some stay for as long as the browser does
		return nil
	}
	return err
}

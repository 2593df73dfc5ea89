package opener

import "golang.org/x/sys/windows"

// Open opens a page in the default browser, and waits for nothing. The shell is called by the
// system's own function: a program for it would flash a window.
func Open(url string) error {
	page, err := windows.UTF16PtrFromString(url)
	if err != nil {
		return err
	}
	return windows.ShellExecute(0, nil, page, nil, nil, windows.SW_SHOWNORMAL)
}

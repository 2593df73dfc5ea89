package main

import "cornerwise/cmd/cornerwise/internal/opener"

// show opens a page where somebody sees it. The window says its address too: where there is no
// browser, nothing is lost.
func (c config) show(page string) {
	if !c.noBrowser {
		opener.Open(page)
	}
}

package window

import (
	"os"
	"unsafe"

	"golang.org/x/sys/windows"
)

var (
	kernel      = windows.NewLazySystemDLL("kernel32.dll")
	processList = kernel.NewProc("GetConsoleProcessList")
	freeConsole = kernel.NewProc("FreeConsole")
)

// ClosesWithUs tells whether the window was opened for this program alone, by a double click: it
// closes when the program ends, whatever it says last.
func ClosesWithUs() bool {
	var ids [2]uint32
	n, _, _ := processList.Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids)))
	return n == 1
}

// Colors has the window take the signs by which the picture of a code is drawn: older ones write
// them out else.
func Colors() {
	out := windows.Handle(os.Stdout.Fd())
	var mode uint32
	if windows.GetConsoleMode(out, &mode) == nil {
		windows.SetConsoleMode(out, mode|windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING)
	}
}

// LetGo closes the window where it was opened for this program alone. The program goes on.
func LetGo() {
	if ClosesWithUs() {
		freeConsole.Call()
	}
}

package powerloss

import (
	"bufio"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
)

// changing are the calls that may change a file or folder, whether the model knows them or not.
const changing = "openat,openat2,open,creat,write,pwrite64,pwritev,pwritev2,writev,ftruncate,truncate," +
	"fallocate,fsync,fdatasync,sync,syncfs,sync_file_range,rename,renameat,renameat2,link,linkat," +
	"symlink,symlinkat,unlink,unlinkat,mkdir,mkdirat,rmdir,copy_file_range,sendfile,splice,mmap," +
	"io_uring_setup"

// Traced makes, in the folder, a program that is the given one under strace, with its process id.
// Its traces go to the folder too. Whoever waits for its output to end waits for the trace.
func Traced(folder, program string) (path string, err error) {
	path = filepath.Join(folder, "traced")
	script := fmt.Sprintf("#!/bin/sh\nexec strace -D -ff -y -xx -s 100000000 --seccomp-bpf "+
		"--absolute-timestamps=format:unix,precision:ns --syscall-times=ns -e signal=none "+
		"-e quiet=attach,exit,path-resolution -e trace=%s -o '%s'/trace-$$ '%s' \"$@\"\n", changing, folder, program)
	// A process that is started meanwhile would have the script open to write: text file busy.
	syscall.ForkLock.RLock()
	defer syscall.ForkLock.RUnlock()
	return path, os.WriteFile(path, []byte(script), 0o700)
}

// A call is one system call that was done. Times are nanoseconds since 1970: before it began
// it had no effect, and until it ended the program did not go on.
type call struct {
	process      string
	began, ended int64
	name         string
	args         []string
	result       string
}

// readCalls are those in the folder of Traced that touch what is below root, in order.
func readCalls(folder, root string) (calls []call, err error) {
	files, err := filepath.Glob(filepath.Join(folder, "trace-*"))
	if err != nil {
		return nil, err
	}
	for _, name := range files {
		process, _, _ := strings.Cut(filepath.Base(name), ".")
		if calls, err = readTrace(calls, name, process, hexed(root)); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(calls, func(a, b call) int { return int(a.order() - b.order()) })
	return calls, nil
}

// order is when a call counts among the others: an open once there is a descriptor to write to.
func (c call) order() int64 {
	if c.name == "openat" || c.name == "open" || c.name == "creat" {
		return c.ended
	}
	return c.began
}

func readTrace(calls []call, name, process, mark string) ([]call, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	lines := bufio.NewScanner(file)
	lines.Buffer(nil, 1<<28)
	for lines.Scan() {
		line := lines.Text()
		everywhere := strings.Contains(line, " sync(") || strings.Contains(line, " io_uring")
		if !everywhere && !strings.Contains(line, mark) || strings.HasSuffix(line, "= ?") {
			continue // elsewhere, or cut off by the end of the process
		}
		c, err := readCall(line)
		if err != nil {
			return nil, err
		}
		if c.process = process; !strings.HasPrefix(c.result, "-") { // else it failed
			calls = append(calls, c)
		}
	}
	return calls, lines.Err()
}

// readCall takes a line apart: began name(args) = result <took>.
func readCall(line string) (c call, err error) {
	began, rest, _ := strings.Cut(line, " ")
	name, rest, _ := strings.Cut(rest, "(")
	equals, took := strings.LastIndex(rest, " = "), strings.LastIndex(rest, " <")
	if equals < 0 || took < equals {
		return c, fmt.Errorf("a trace can't be read: %.300s", line)
	}
	args := strings.TrimSuffix(strings.TrimRight(rest[:equals], " "), ")")
	c.name, c.args, c.result = name, strings.Split(args, ", "), rest[equals+len(" = "):took]
	c.result, _, _ = strings.Cut(c.result, "<") // the descriptor's path
	c.result, _, _ = strings.Cut(c.result, " ") // an error's words
	c.began, err = nanoseconds(began)
	lasted, wrong := nanoseconds(strings.Trim(rest[took:], " <>"))
	c.ended = c.began + lasted
	return c, errors.Join(err, wrong)
}

// nanoseconds reads seconds with nine places.
func nanoseconds(written string) (int64, error) {
	return strconv.ParseInt(strings.Replace(written, ".", "", 1), 10, 64)
}

func hexed(s string) string {
	var b strings.Builder
	for i := range len(s) {
		fmt.Fprintf(&b, `\x%02x`, s[i])
	}
	return b.String()
}

func unhexed(s string) string {
	data, err := hex.DecodeString(strings.ReplaceAll(strings.Trim(s, `".`), `\x`, ""))
	if err != nil {
		return "" // no string
	}
	return string(data)
}

func (c call) number(arg int) int64 {
	n, _ := strconv.ParseInt(c.args[arg], 10, 64)
	return n
}

// file is the descriptor in an argument, and the path that it has now; "" when it has none.
func (c call) file(arg int) (descriptor, path string) {
	descriptor, rest, _ := strings.Cut(c.args[arg], "<")
	path, found := strings.CutSuffix(rest, ">")
	if !found {
		return descriptor, "" // deleted, or no file
	}
	return descriptor, unhexed(path)
}

// path is the one in an argument; in calls that end in "at" it is from the folder before it.
func (c call) path(arg int) string {
	path := unhexed(c.args[arg])
	if !filepath.IsAbs(path) && arg > 0 {
		_, folder := c.file(arg - 1)
		path = filepath.Join(folder, path)
	}
	return filepath.Clean(path)
}

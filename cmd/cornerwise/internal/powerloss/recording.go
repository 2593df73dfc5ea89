package powerloss

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

const never = math.MaxInt64

// A Recording is what programs did to a folder.
type Recording struct {
	root    *inode
	path    string
	first   *disk
	now     *disk // as the programs see it
	changes []*change
	syncs   []call
	offsets map[string]int64 // of the next write, by process and descriptor
}

// Read makes a recording of the traces that Traced left. first is what lay below root before.
// What lies there now must be what the traces lead to.
func Read(traces, root string, first Files) (*Recording, error) {
	calls, err := readCalls(traces, root)
	if err != nil {
		return nil, err
	}
	r, err := record(root, first, calls)
	if err != nil {
		return nil, err
	}
	now, err := ReadFiles(root)
	if err != nil {
		return nil, err
	}
	if led := r.now.files(r.root); !maps.EqualFunc(led, now, bytes.Equal) {
		return nil, fmt.Errorf("the trace leads to %v, and in %s lies %v", sizes(led), root, sizes(now))
	}
	return r, nil
}

func sizes(files Files) (list []string) {
	for _, name := range slices.Sorted(maps.Keys(files)) {
		list = append(list, fmt.Sprintf("%s: %d", name, len(files[name])))
	}
	return list
}

func record(root string, first Files, calls []call) (*Recording, error) {
	r := &Recording{root: &inode{folder: true}, path: root, now: newDisk(), offsets: map[string]int64{}}
	for _, name := range slices.Sorted(maps.Keys(first)) {
		made := &inode{folder: first[name] == nil}
		in, base := r.parent(filepath.Join(root, name))
		r.now.do(&change{namings: []naming{{in: in, name: base, to: made}}}, nil, false)
		if !made.folder {
			r.now.bytes[made] = slices.Clone(first[name])
		}
	}
	r.first = r.now.copied()
	for _, c := range calls {
		if err := r.play(c); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// find is what has a path now; nil for what lies elsewhere, or nowhere.
func (r *Recording) find(path string) *inode {
	if path == r.path {
		return r.root
	}
	if !strings.HasPrefix(path, r.path+"/") {
		return nil
	}
	in, name := r.parent(path)
	return r.now.names[in][name]
}

func (r *Recording) parent(path string) (in *inode, name string) {
	return r.find(filepath.Dir(path)), filepath.Base(path)
}

func (r *Recording) short(path string) string { return strings.TrimPrefix(path, r.path+"/") }

func (r *Recording) add(c *change) {
	c.synced = never
	r.changes = append(r.changes, c)
	r.now.do(c, nil, false)
}

// name adds a change of names.
func (r *Recording) name(c call, said string, namings ...naming) {
	for _, n := range namings {
		if n.in == nil {
			return // elsewhere
		}
	}
	r.add(&change{call: c, said: said, namings: namings})
}

func (r *Recording) naming(path string, to *inode) naming {
	in, name := r.parent(path)
	return naming{in: in, name: name, to: to}
}

// sync makes certain what was done to a file or folder before the sync began.
func (r *Recording) sync(c call, of *inode) {
	for _, done := range r.changes {
		if done.synced != never || done.ended > c.began {
			continue
		}
		if done.of == of {
			done.synced = c.ended
		}
		open := 0 // folders of it that are still to be synced
		for i, n := range done.namings {
			if n.in == of {
				done.namings[i].synced = true
			}
			if !done.namings[i].synced {
				open++
			}
		}
		if done.named() && open == 0 {
			done.synced = c.ended
		}
	}
	r.syncs = append(r.syncs, c)
}

// play takes a call into the model. One that it does not know is an error.
func (r *Recording) play(c call) error {
	at := 0 // the argument with the path
	if strings.HasSuffix(c.name, "at") || c.name == "renameat2" {
		at = 1
	}
	switch c.name {
	case "openat", "open":
		return r.open(c, c.path(at), c.args[at+1])
	case "write", "pwrite64":
		return r.write(c)
	case "ftruncate":
		if _, path := c.file(0); r.find(path) != nil {
			r.resize(c, path, c.number(1))
		}
	case "fsync", "fdatasync":
		if _, path := c.file(0); r.find(path) != nil {
			r.sync(c, r.find(path))
		}
	case "rename", "renameat", "renameat2":
		from, to := c.path(at), c.path(2*at+1)
		r.name(c, "rename "+r.short(from)+" to "+r.short(to), r.naming(from, nil), r.naming(to, r.find(from)))
	case "link", "linkat":
		from, to := c.path(at), c.path(2*at+1)
		r.name(c, "link "+r.short(from)+" as "+r.short(to), r.naming(to, r.find(from)))
	case "unlink", "unlinkat", "rmdir":
		r.name(c, "remove "+r.short(c.path(at)), r.naming(c.path(at), nil))
	case "mkdir", "mkdirat":
		r.name(c, "make the folder "+r.short(c.path(at)), r.naming(c.path(at), &inode{folder: true}))
	case "mmap":
		if strings.Contains(c.args[2], "PROT_WRITE") && strings.Contains(c.args[3], "MAP_SHARED") {
			return fmt.Errorf("a file is written to by mmap, which is not modelled")
		}
	default:
		return fmt.Errorf("the call %s is not modelled", c.name)
	}
	return nil
}

func (r *Recording) open(c call, path, flags string) error {
	if strings.Contains(flags, "SYNC") {
		return fmt.Errorf("%s is opened to be written through (%s), which is not modelled", path, flags)
	}
	was := r.find(path)
	switch {
	case was == nil && strings.Contains(flags, "O_CREAT"):
		r.name(c, "create "+r.short(path), r.naming(path, &inode{}))
	case was != nil && strings.Contains(flags, "O_TRUNC") && len(r.now.bytes[was]) > 0:
		r.resize(c, path, 0)
	}
	offset := 0
	if strings.Contains(flags, "O_APPEND") {
		offset = len(r.now.bytes[was])
	}
	r.offsets[c.process+" "+c.result] = int64(offset)
	return nil
}

func (r *Recording) write(c call) error {
	descriptor, path := c.file(0)
	of := r.find(path)
	if of == nil {
		return nil
	}
	data := []byte(unhexed(c.args[1]))
	n, err := strconv.Atoi(c.result)
	if err != nil || n > len(data) {
		return fmt.Errorf("of a write of %s bytes %d were recorded", c.result, len(data))
	}
	data = data[:n]
	key := c.process + " " + descriptor
	at := r.offsets[key]
	if c.name == "pwrite64" {
		at = c.number(3)
	} else {
		r.offsets[key] += int64(len(data))
	}
	r.add(&change{call: c, said: fmt.Sprintf("write %d bytes of %s at %d", len(data), r.short(path), at), of: of, at: at, data: data})
	return nil
}

func (r *Recording) resize(c call, path string, size int64) {
	r.add(&change{call: c, said: fmt.Sprintf("make %s %d bytes long", r.short(path), size), of: r.find(path), at: size})
}

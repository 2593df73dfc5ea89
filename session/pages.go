package session

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
)

// bbolt maps a file into memory and believes it: a damaged one ends the process by
// a fault of memory, a panic in a goroutine of its own, or a page that leads to
// itself. So a file is read through once in here before bbolt gets it, by plain
// reads that take no number on trust. The form is bbolt's, version 2: pages that
// begin with id, flags, count and overflow; two of meta; below, branches and leaves.
// Numbers are in the order of the machine.
const (
	boltMagic   = 0xED0CDAED
	boltVersion = 2

	headerSize  = 16 // of a page
	elementSize = 16 // of a branch and of a leaf
	metaSize    = 64
	bucketSize  = 16

	branchPage = 0x01
	leafPage   = 0x02
	bucketFlag = 0x01

	maxDepth  = 40 // pages from a bucket's root to a leaf; bbolt needs 4 for a billion keys
	maxNested = 8  // buckets
	maxFaults = 20 // more are not looked for
)

var native = binary.NativeEndian

// A root is where one state of the file begins.
type root struct {
	page     uint64 // of the root bucket
	high     uint64 // pages in use lie below
	txid     uint64 // commits so far
	pageSize int64
}

// readRoot is the newest state of a file of size bytes. half tells that one of the
// two meta pages is damaged: the newest may be the other.
func readRoot(file io.ReaderAt, size int64) (newest root, half bool, err error) {
	var pageSize int64
	found, magic := 0, false
	read := func(at int64) error {
		data := make([]byte, headerSize+metaSize)
		if _, err := file.ReadAt(data, at); err != nil {
			if errors.Is(err, io.EOF) {
				return nil
			}
			return err
		}
		meta := data[headerSize:]
		sum := fnv.New64a()
		sum.Write(meta[:56])
		magic = magic || native.Uint32(meta) == boltMagic
		if native.Uint32(meta) != boltMagic || native.Uint32(meta[4:]) != boltVersion || native.Uint64(meta[56:]) != sum.Sum64() {
			return nil
		}
		r := root{page: native.Uint64(meta[16:]), high: native.Uint64(meta[40:]), txid: native.Uint64(meta[48:]), pageSize: int64(native.Uint32(meta[8:]))}
		if found++; found == 1 || r.txid > newest.txid {
			newest = r
		}
		pageSize = r.pageSize
		return nil
	}
	if err := read(0); err != nil {
		return root{}, false, err
	}
	if found == 1 {
		err = read(pageSize)
	} else {
		// The first is damaged; how large a page is only the second tells.
		for at := int64(1024); at <= 64<<10 && found == 0 && err == nil; at *= 2 {
			err = read(at)
		}
	}
	switch {
	case err != nil:
		return root{}, false, err
	case found == 0 && !magic && size > 0:
		return root{}, false, ErrForeign
	case found == 0:
		return root{}, false, fmt.Errorf("its first pages are not as they were written: %w", ErrDamaged)
	case pageSize < 512 || newest.high < 2 || newest.high > uint64(size/pageSize):
		return root{}, false, fmt.Errorf("it is cut short at %d bytes of %d: %w", size, int64(newest.high)*pageSize, ErrDamaged)
	}
	return newest, found == 1, nil
}

// A walk visits what a root leads to, every page once.
type walk struct {
	file io.ReaderAt
	root root
	used []bool // the pages that were met

	// enter tells whether to go into the bucket at a path; see gets every value.
	// What they get is good until they return.
	enter func(path []string) bool
	see   func(path []string, key, value []byte)

	faults []string
}

func (w *walk) run() {
	w.used = make([]bool, w.root.high)
	w.tree(nil, w.root.page, nil, nil, 0)
}

func (w *walk) fault(format string, a ...any) {
	if len(w.faults) < maxFaults {
		w.faults = append(w.faults, fmt.Sprintf(format, a...))
	}
}

// tree visits the pages from one down. All keys in it are from low on and below
// high, where those are not nil.
func (w *walk) tree(path []string, id uint64, low, high []byte, deep int) {
	if len(w.faults) >= maxFaults {
		return
	}
	if deep > maxDepth {
		w.fault("page %d lies too deep", id)
		return
	}
	if page := w.page(id); page != nil {
		w.elements(path, id, page, low, high, deep)
	}
}

// page is one page with what it overflows into, nil where it is not sound.
func (w *walk) page(id uint64) []byte {
	if id < 2 || id >= w.root.high {
		w.fault("page %d lies outside of the file", id)
		return nil
	}
	page := make([]byte, w.root.pageSize)
	if _, err := w.file.ReadAt(page, int64(id)*w.root.pageSize); err != nil {
		w.fault("page %d can't be read: %v", id, err)
		return nil
	}
	more := uint64(native.Uint32(page[12:]))
	if native.Uint64(page) != id || more >= w.root.high-id {
		w.fault("page %d is not as it was written", id)
		return nil
	}
	for p := id; p <= id+more; p++ {
		if w.used[p] {
			w.fault("page %d is in use twice", p)
			return nil
		}
		w.used[p] = true
	}
	if more == 0 {
		return page
	}
	rest := make([]byte, int64(more)*w.root.pageSize)
	if _, err := w.file.ReadAt(rest, int64(id+1)*w.root.pageSize); err != nil {
		w.fault("page %d can't be read: %v", id, err)
		return nil
	}
	return append(page, rest...)
}

// elements visits what a page holds; id is 0 where it lies in a value.
func (w *walk) elements(path []string, id uint64, page, low, high []byte, deep int) {
	flags, count := native.Uint16(page[8:]), int(native.Uint16(page[10:]))
	if flags != branchPage && flags != leafPage || flags == branchPage && count == 0 || headerSize+count*elementSize > len(page) {
		w.fault("%s is not as it was written", placed(path, id))
		return
	}
	var last []byte
	for i := range count {
		at := headerSize + i*elementSize
		key, value, ok := element(page, at, flags)
		if !ok || i > 0 && bytes.Compare(last, key) >= 0 ||
			high != nil && bytes.Compare(key, high) >= 0 || flags == leafPage && bytes.Compare(key, low) < 0 {
			w.fault("%s is not as it was written at its key %d", placed(path, id), i+1)
			return
		}
		last = key
		switch {
		case flags == branchPage:
			next := high
			if i+1 < count {
				if next, _, ok = element(page, at+elementSize, flags); !ok {
					w.fault("%s is not as it was written at its key %d", placed(path, id), i+2)
					return
				}
			}
			w.tree(path, native.Uint64(page[at+8:]), key, next, deep+1)
		case native.Uint32(page[at:])&bucketFlag != 0:
			w.bucket(path, key, value)
		default:
			w.see(path, key, value)
		}
	}
}

func placed(path []string, id uint64) string {
	if id == 0 {
		return fmt.Sprintf("the bucket %q", path)
	}
	return fmt.Sprint("page ", id)
}

// element is the key at an offset of the page and, in a leaf, its value.
func element(page []byte, at int, flags uint16) (key, value []byte, ok bool) {
	e := page[at:]
	pos, keySize, valueSize := native.Uint32(e), native.Uint32(e[4:]), uint32(0)
	if flags == leafPage {
		pos, keySize, valueSize = native.Uint32(e[4:]), native.Uint32(e[8:]), native.Uint32(e[12:])
	}
	from := uint64(at) + uint64(pos)
	mid := from + uint64(keySize)
	to := mid + uint64(valueSize)
	if keySize == 0 || to > uint64(len(page)) {
		return nil, nil, false
	}
	return page[from:mid], page[mid:to], true
}

func (w *walk) bucket(path []string, key, value []byte) {
	path = append(path[:len(path):len(path)], string(key))
	if len(path) > maxNested || len(value) < bucketSize {
		w.fault("the bucket %q is not as it was written", path)
		return
	}
	if !w.enter(path) {
		return
	}
	if id := native.Uint64(value); id != 0 {
		w.tree(path, id, nil, nil, 0)
		return
	}
	inside := value[bucketSize:]
	if len(inside) < headerSize || native.Uint16(inside[8:]) != leafPage {
		w.fault("the bucket %q is not as it was written", path)
		return
	}
	w.elements(path, 0, inside, nil, nil, 0)
}

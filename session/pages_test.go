package session

import (
	"bytes"
	"errors"
	"fmt"
	"hash/fnv"
	"strings"
	"testing"
)

// Pages made by hand, of 512 bytes, to stand on either side of each limit.

const handSize = 512

// An element of a page: a record, a bucket, or in a branch the way to a page.
type handElement struct {
	key, value string
	child      uint64
	bucket     bool
}

// handPage is a page of the form of bbolt. size is in bytes.
func handPage(id uint64, flags uint16, overflow uint32, size int, elements ...handElement) []byte {
	page := make([]byte, size)
	native.PutUint64(page, id)
	native.PutUint16(page[8:], flags)
	native.PutUint16(page[10:], uint16(len(elements)))
	native.PutUint32(page[12:], overflow)
	at := headerSize + len(elements)*elementSize
	for i, e := range elements {
		from := headerSize + i*elementSize
		pos := uint32(at - from)
		if flags == branchPage {
			native.PutUint32(page[from:], pos)
			native.PutUint32(page[from+4:], uint32(len(e.key)))
			native.PutUint64(page[from+8:], e.child)
		} else {
			if e.bucket {
				native.PutUint32(page[from:], bucketFlag)
			}
			native.PutUint32(page[from+4:], pos)
			native.PutUint32(page[from+8:], uint32(len(e.key)))
			native.PutUint32(page[from+12:], uint32(len(e.value)))
		}
		at += copy(page[at:], e.key)
		at += copy(page[at:], e.value)
	}
	return page
}

func handLeaf(id uint64, keys ...string) []byte {
	var elements []handElement
	for _, key := range keys {
		elements = append(elements, handElement{key: key, value: "v"})
	}
	return handPage(id, leafPage, 0, handSize, elements...)
}

// handBranch leads from each key to a page: "a", 3, "c", 4.
func handBranch(id uint64, ways ...any) []byte {
	return handPage(id, branchPage, 0, handSize, handWays(ways)...)
}

func handWays(ways []any) (elements []handElement) {
	for i := 0; i < len(ways); i += 2 {
		elements = append(elements, handElement{key: ways[i].(string), child: uint64(ways[i+1].(int))})
	}
	return elements
}

// withCount has a page say that it holds so many keys.
func withCount(page []byte, count uint16) []byte {
	native.PutUint16(page[10:], count)
	return page
}

// handBucket is a bucket's value: its root, or 0 and the page that lies in it.
func handBucket(page uint64, inside []byte) string {
	return string(native.AppendUint64(nil, page)) + string(make([]byte, 8)) + string(inside)
}

// walkBy is what a walk of the pages, from page 2 on, finds and meets.
func walkBy(pages ...[]byte) (met []string, faults []string) {
	file := bytes.Join(append([][]byte{make([]byte, 2*handSize)}, pages...), nil)
	w := walk{file: bytes.NewReader(file), root: root{page: 2, high: uint64(len(file) / handSize), pageSize: handSize},
		enter: func([]string) bool { return true },
		see: func(path []string, key, value []byte) {
			met = append(met, strings.Join(append(append([]string{}, path...), string(key)), "/"))
		}}
	w.run()
	return met, w.faults
}

func TestWalkGoesAsFarAsIsSoundAndNoFurther(t *testing.T) {
	bucket := func(name, value string) handElement { return handElement{key: name, value: value, bucket: true} }
	one := func(e ...handElement) []byte { return handPage(2, leafPage, 0, handSize, e...) }
	inside := handPage(0, leafPage, 0, 64, handElement{key: "k", value: "v"})
	const room = handSize - headerSize - elementSize // for one key and its value
	value := func(size int) handElement { return handElement{key: "a", value: strings.Repeat("v", size)} }
	ways := func(next string) []byte { return handBranch(2, "a", 3, next, 4) }
	const page2, page3 = "page 2 is not as it was written", "page 3 is not as it was written"
	for _, c := range []struct {
		name  string
		met   string
		fault string // the beginning of the only one; "" where it is sound
		pages [][]byte
	}{
		{"a leaf", "a b", "", [][]byte{handLeaf(2, "a", "b")}},
		{"an empty leaf", "", "", [][]byte{handLeaf(2)}},
		{"two leaves below a branch", "a b c", "", [][]byte{ways("c"), handLeaf(3, "a", "b"), handLeaf(4, "c")}},
		{"a branch with no way down", "", page2, [][]byte{handBranch(2)}},
		{"more keys than the page has room for", "", page2, [][]byte{withCount(handLeaf(2), 32)}},
		{"as many keys as it has room for, of no length", "", page2 + " at its key 1", [][]byte{withCount(handLeaf(2), 31)}},
		{"a page of neither kind", "", page2, [][]byte{handPage(2, 4, 0, handSize)}},
		{"two keys alike", "a", page2 + " at its key 2", [][]byte{handLeaf(2, "a", "a")}},
		{"keys out of order", "b", page2 + " at its key 2", [][]byte{handLeaf(2, "b", "a")}},
		{"a key under its branch's", "", page3 + " at its key 1", [][]byte{handBranch(2, "b", 3), handLeaf(3, "a")}},
		{"a key that belongs to the next page", "a d", page3 + " at its key 2",
			[][]byte{ways("c"), handLeaf(3, "a", "c"), handLeaf(4, "d")}},
		{"a branch's key that belongs to the next page", "a d", page3 + " at its key 2",
			[][]byte{ways("c"), handBranch(3, "a", 5, "c", 6), handLeaf(4, "d"), handLeaf(5, "a"), handLeaf(6, "c")}},
		{"a way to the page after the last", "", "page 3 lies outside of the file", [][]byte{handBranch(2, "a", 3)}},
		{"a way to the last page", "a", "", [][]byte{handBranch(2, "a", 3), handLeaf(3, "a")}},
		{"a way to a meta page", "", "page 1 lies outside of the file", [][]byte{handBranch(2, "a", 1)}},
		{"a way back", "", "page 2 is in use twice", [][]byte{handBranch(2, "a", 2)}},
		{"two ways to one page", "a", "page 3 is in use twice", [][]byte{handBranch(2, "a", 3, "b", 3), handLeaf(3, "a")}},
		{"a page of another number", "", page2, [][]byte{handLeaf(3, "a")}},
		{"a page that overflows to the end of the file", "a", "",
			[][]byte{handPage(2, leafPage, 1, 2*handSize, value(handSize+room-1))}},
		{"a page that overflows past it", "", page2, [][]byte{handPage(2, leafPage, 2, 2*handSize)}},
		{"an overflow that is a page too", "a", "page 4 is not as it was written",
			[][]byte{ways("b"), handPage(3, leafPage, 1, 2*handSize, value(1))}},
		{"a value up to the page's end", "a", "", [][]byte{handPage(2, leafPage, 0, handSize, value(room-1))}},
		{"a value past the page's end", "", page2 + " at its key 1", [][]byte{handPage(2, leafPage, 0, handSize, value(room))}},
		{"a key of no length", "", page2 + " at its key 1", [][]byte{handLeaf(2, "")}},
		{"a next key of no length", "", page2 + " at its key 2", [][]byte{ways(""), handLeaf(3, "a"), handLeaf(4, "b")}},
		{"a bucket on a page of its own", "b/k", "", [][]byte{one(bucket("b", handBucket(3, nil))), handLeaf(3, "k")}},
		{"a bucket within its value", "b/k", "", [][]byte{one(bucket("b", handBucket(0, inside)))}},
		{"the same, of no records", "", "",
			[][]byte{one(bucket("b", handBucket(0, handPage(0, leafPage, 0, headerSize))))}},
		{"a bucket's value a byte short", "", `the bucket ["b"] is not as it was written`,
			[][]byte{one(bucket("b", handBucket(3, nil)[:15])), handLeaf(3, "k")}},
		{"a bucket within its value a byte short", "", `the bucket ["b"] is not as it was written`,
			[][]byte{one(bucket("b", handBucket(0, inside[:15])))}},
		{"a branch within a value", "", `the bucket ["b"] is not as it was written`,
			[][]byte{one(bucket("b", handBucket(0, handPage(0, branchPage, 0, 64, handElement{key: "a", child: 3})))), handLeaf(3, "a")}},
		{"a fault within a value", "b/a", `the bucket ["b"] is not as it was written at its key 2`,
			[][]byte{one(bucket("b", handBucket(0, handPage(0, leafPage, 0, 64, value(0), value(0)))))}},
	} {
		met, faults := walkBy(c.pages...)
		switch {
		case c.fault == "" && len(faults) > 0, c.fault != "" && (len(faults) != 1 || !strings.HasPrefix(faults[0], c.fault)):
			t.Errorf("%s: the faults are %q, want %q", c.name, faults, c.fault)
		case strings.Join(met, " ") != c.met:
			t.Errorf("%s: met were %q, want %q", c.name, met, c.met)
		}
	}
}

func TestWalkGoesDownFortyPagesAndEightBuckets(t *testing.T) {
	for _, deep := range []int{maxDepth, maxDepth + 1} {
		var pages [][]byte
		for n := range deep {
			pages = append(pages, handBranch(uint64(2+n), "a", 3+n))
		}
		met, faults := walkBy(append(pages, handLeaf(uint64(2+deep), "a"))...)
		if sound := deep <= maxDepth; (len(met) == 1) != sound || (len(faults) == 0) != sound {
			t.Errorf("%d branches: met %q, faults %q, want it sound: %t", deep, met, faults, sound)
		}
	}
	for _, nested := range []int{maxNested, maxNested + 1} {
		var pages [][]byte
		for n := range nested {
			pages = append(pages, handPage(uint64(2+n), leafPage, 0, handSize, handElement{key: "b", value: handBucket(uint64(3+n), nil), bucket: true}))
		}
		met, faults := walkBy(append(pages, handLeaf(uint64(2+nested), "k"))...)
		if sound := nested <= maxNested; (len(met) == 1) != sound || (len(faults) == 0) != sound {
			t.Errorf("%d buckets: met %q, faults %q, want it sound: %t", nested, met, faults, sound)
		}
	}
}

// A file that is all faults is not looked through to its end.
func TestWalkEndsAfterTwentyFaults(t *testing.T) {
	for _, n := range []int{maxFaults - 1, maxFaults, maxFaults + 5} {
		// The branch takes the pages 2 and 3, so that it has room for all the ways.
		var ways []any
		var pages [][]byte
		for i := range n {
			ways = append(ways, fmt.Sprintf("%02d", i), 4+i)
			pages = append(pages, handPage(uint64(4+i), 4, 0, handSize))
		}
		ways = append(ways, "~", 4+n)
		pages = append(pages, handLeaf(uint64(4+n), "~"))
		branch := handPage(2, branchPage, 1, 2*handSize, handWays(ways)...)
		met, faults := walkBy(append([][]byte{branch}, pages...)...)
		if want := min(n, maxFaults); len(faults) != want || (len(met) == 1) != (n < maxFaults) {
			t.Errorf("%d damaged pages: %d faults and %d records, want %d faults", n, len(faults), len(met), want)
		}
	}
}

// handMeta is a meta page of bbolt's.
func handMeta(pageSize uint32, high, txid uint64) []byte {
	page := make([]byte, pageSize)
	meta := page[headerSize:]
	native.PutUint32(meta, boltMagic)
	native.PutUint32(meta[4:], boltVersion)
	native.PutUint32(meta[8:], pageSize)
	native.PutUint64(meta[16:], 3+txid) // the root
	native.PutUint64(meta[40:], high)
	native.PutUint64(meta[48:], txid)
	sum := fnv.New64a()
	sum.Write(meta[:56])
	native.PutUint64(meta[56:], sum.Sum64())
	return page
}

func TestReadRootTakesTheNewestSoundMeta(t *testing.T) {
	broken := func(page []byte) []byte { page = bytes.Clone(page); page[headerSize+48] ^= 1; return page }
	rest := make([]byte, 8*handSize)
	for _, c := range []struct {
		name   string
		first  []byte
		second []byte
		rest   []byte
		txid   uint64
		half   bool
		err    error
	}{
		{"the second is newer", handMeta(512, 10, 4), handMeta(512, 10, 5), rest, 5, false, nil},
		{"the first is newer", handMeta(512, 10, 6), handMeta(512, 10, 5), rest, 6, false, nil},
		{"the second is damaged", handMeta(512, 10, 4), broken(handMeta(512, 10, 5)), rest, 4, true, nil},
		{"the first is damaged, pages of 1 KiB", broken(handMeta(1024, 6, 4)), handMeta(1024, 6, 5), rest, 5, true, nil},
		{"the first is damaged, pages of 64 KiB", broken(handMeta(65536, 2, 4)), handMeta(65536, 2, 5), nil, 5, true, nil},
		{"both are damaged", broken(handMeta(1024, 6, 4)), broken(handMeta(1024, 6, 5)), rest, 0, false, ErrDamaged},
		{"a page is missing at the end", handMeta(512, 11, 4), handMeta(512, 11, 5), rest, 0, false, ErrDamaged},
		{"it has no pages", handMeta(512, 1, 4), handMeta(512, 1, 5), rest, 0, false, ErrDamaged},
		{"pages too small to be", handMeta(256, 2, 4), handMeta(256, 2, 5), rest, 0, false, ErrDamaged},
		{"another program's", make([]byte, 512), make([]byte, 512), rest, 0, false, ErrForeign},
		{"nothing", nil, nil, nil, 0, false, ErrDamaged},
	} {
		data := bytes.Join([][]byte{c.first, c.second, c.rest}, nil)
		got, half, err := readRoot(bytes.NewReader(data), int64(len(data)))
		if !errors.Is(err, c.err) || c.err == nil && err != nil {
			t.Errorf("%s: readRoot: %v, want %v", c.name, err, c.err)
		}
		if got.txid != c.txid || half != c.half || c.txid > 0 && got.page != 3+c.txid {
			t.Errorf("%s: readRoot = %+v, half %t, want the state %d, half %t", c.name, got, half, c.txid, c.half)
		}
	}
}

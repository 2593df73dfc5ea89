package powerloss

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
)

// Files are what lies in a folder: the bytes of each file by its path, nil for a folder.
type Files map[string][]byte

// ReadFiles are those below a folder.
func ReadFiles(folder string) (Files, error) {
	files := Files{}
	return files, filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || path == folder {
			return err
		}
		name, _ := filepath.Rel(folder, path)
		if e.IsDir() {
			files[name] = nil
			return nil
		}
		data, err := os.ReadFile(path)
		files[name] = append([]byte{}, data...)
		return err
	})
}

// Write lays them out in a folder that is made.
func (f Files) Write(folder string) error {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(f)) {
		path, data := filepath.Join(folder, name), f[name]
		err := os.WriteFile(path, data, 0o600)
		if data == nil {
			os.Remove(path)
			err = os.Mkdir(path, 0o700)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// An inode is a file or a folder, whatever its names are.
type inode struct{ folder bool }

// A disk holds names by folder and bytes by file.
type disk struct {
	names map[*inode]map[string]*inode
	bytes map[*inode][]byte
}

func newDisk() *disk { return &disk{map[*inode]map[string]*inode{}, map[*inode][]byte{}} }

func (d *disk) copied() *disk {
	other := newDisk()
	for folder, names := range d.names {
		other.names[folder] = maps.Clone(names)
	}
	for file, data := range d.bytes {
		other.bytes[file] = slices.Clone(data)
	}
	return other
}

// files are all that can be reached from a folder.
func (d *disk) files(folder *inode) Files {
	files := Files{}
	d.collect(files, folder, "")
	return files
}

func (d *disk) collect(files Files, folder *inode, path string) {
	for name, of := range d.names[folder] {
		at := filepath.Join(path, name)
		if of.folder {
			files[at] = nil
			d.collect(files, of, at)
		} else {
			files[at] = append([]byte{}, d.bytes[of]...)
		}
	}
}

// A naming gives a name in a folder to a file or folder; nil takes the name away.
type naming struct {
	in   *inode
	name string
	to   *inode

	synced bool
}

// A change is one that may or may not be on the disk: of names, or of what a file holds.
type change struct {
	call
	said    string
	namings []naming
	of      *inode // the file that is written to, or gets another size
	at      int64
	data    []byte // nil where the size becomes at
	synced  int64  // when it was certainly on the disk, never where it was not
}

func (c *change) named() bool { return c.of == nil }

func (c *change) String() string { return fmt.Sprintf("%s: %s", c.process, c.said) }

// A span is part of a write: its bytes from and up to.
type span struct{ from, to int }

// do makes a change. torn are the spans of a write that arrive; its size does in any case.
func (d *disk) do(c *change, torn []span, isTorn bool) {
	for _, n := range c.namings {
		if d.names[n.in] == nil {
			d.names[n.in] = map[string]*inode{}
		}
		if d.names[n.in][n.name] = n.to; n.to == nil {
			delete(d.names[n.in], n.name)
		}
	}
	if c.named() {
		return
	}
	data := d.bytes[c.of]
	end := int(c.at) + len(c.data)
	if more := end - len(data); more > 0 {
		data = append(data, make([]byte, more)...)
	}
	switch {
	case c.data == nil:
		data = data[:end]
	case !isTorn:
		copy(data[c.at:], c.data)
	}
	for _, s := range torn {
		copy(data[int(c.at)+s.from:], c.data[s.from:s.to])
	}
	d.bytes[c.of] = data
}

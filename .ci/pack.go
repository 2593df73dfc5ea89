// Pack puts a folder into an archive, a .zip or a .tar.gz, whose bytes depend on nothing but what
// the files hold and may do: they come by name, belong to nobody, and are as old as
// SOURCE_DATE_EPOCH says.
//
//	pack ARCHIVE FOLDER
package main

import (
	"archive/tar"
	"archive/zip"
	"compress/flate"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "pack ARCHIVE FOLDER")
		os.Exit(2)
	}
	if err := pack(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

// A file is one that is packed, at the top of the folder.
type file struct {
	name string
	mode os.FileMode
	data []byte
}

func pack(archive, folder string) error {
	seconds, err := strconv.ParseInt(os.Getenv("SOURCE_DATE_EPOCH"), 10, 64)
	if err != nil {
		return fmt.Errorf("read SOURCE_DATE_EPOCH: %w", err)
	}
	at := time.Unix(seconds, 0).UTC()
	files, err := read(folder)
	if err != nil {
		return err
	}
	out, err := os.Create(archive)
	if err != nil {
		return err
	}
	write := writeTar
	if strings.HasSuffix(archive, ".zip") {
		write = writeZip
	}
	return errors.Join(write(out, filepath.Base(folder), files, at), out.Close())
}

func read(folder string) (files []file, err error) {
	entries, err := os.ReadDir(folder) // by name
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		path := filepath.Join(folder, e.Name())
		info, err := os.Stat(path)
		if err != nil {
			return nil, err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		mode := os.FileMode(0o644)
		if info.Mode()&0o100 != 0 {
			mode = 0o755
		}
		files = append(files, file{e.Name(), mode, data})
	}
	return files, nil
}

// writeZip keeps the mode too, as Macs read it.
func writeZip(out io.Writer, _ string, files []file, at time.Time) error {
	z := zip.NewWriter(out)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) {
		return flate.NewWriter(w, flate.BestCompression)
	})
	for _, f := range files {
		h := &zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: at}
		h.SetMode(f.mode)
		w, err := z.CreateHeader(h)
		if err != nil {
			return err
		}
		if _, err := w.Write(f.data); err != nil {
			return err
		}
	}
	return z.Close()
}

func writeTar(out io.Writer, folder string, files []file, at time.Time) error {
	packed, err := gzip.NewWriterLevel(out, gzip.BestCompression)
	if err != nil {
		return err
	}
	t := tar.NewWriter(packed)
	top := &tar.Header{Typeflag: tar.TypeDir, Name: folder + "/", Mode: 0o755, ModTime: at}
	if err := t.WriteHeader(top); err != nil {
		return err
	}
	for _, f := range files {
		h := &tar.Header{Name: folder + "/" + f.name, Mode: int64(f.mode), Size: int64(len(f.data)), ModTime: at}
		if err := t.WriteHeader(h); err != nil {
			return err
		}
		if _, err := t.Write(f.data); err != nil {
			return err
		}
	}
	return errors.Join(t.Close(), packed.Close())
}

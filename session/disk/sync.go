package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"runtime"
	"syscall"
)

// SyncFolder returns once the names in a folder are on the disk. Where that can't be had it
// does nothing: some systems have no such thing, some file systems refuse it, and a folder
// that one may enter and not read can't be synced.
func SyncFolder(path string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	folder, err := os.Open(path)
	if errors.Is(err, fs.ErrPermission) {
		return nil
	}
	if err != nil {
		return err
	}
	defer folder.Close()
	if err := folder.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) {
		return fmt.Errorf("sync the folder: %w", err)
	}
	return nil
}

// SyncFile returns once what a file holds is on the disk, whoever wrote it.
func SyncFile(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0) // some systems sync only what may be written
	if err != nil {
		return err
	}
	defer file.Close()
	return file.Sync()
}

//go:build linux || darwin || freebsd

package session

import "syscall"

// space is how many bytes this user may still write to the disk of a folder.
func space(folder string) (uint64, error) {
	var disk syscall.Statfs_t
	if err := syscall.Statfs(folder, &disk); err != nil {
		return 0, err
	}
	return uint64(disk.Bavail) * uint64(disk.Bsize), nil
}

// Package datafolder tells where the sessions are kept.
package datafolder

import "path/filepath"

// StoreFile is the name of the file of the sessions in the data folder.
const StoreFile = "cornerwise.db"

// Store is the path of the file of the sessions in a data folder.
func Store(folder string) string { return filepath.Join(folder, StoreFile) }

// Usual is where a user's programs keep their data on a system (as runtime.GOOS names
// it); "" when the environment does not tell.
func Usual(system string, env func(string) string) string {
	in := func(variable string, below ...string) string {
		base := env(variable)
		if base == "" {
			return ""
		}
		return filepath.Join(append(append([]string{base}, below...), "cornerwise")...)
	}
	switch system {
	case "windows":
		return in("LocalAppData")
	case "darwin", "ios":
		return in("HOME", "Library", "Application Support")
	}
	if folder := in("XDG_DATA_HOME"); filepath.IsAbs(folder) {
		return folder
	}
	return in("HOME", ".local", "share")
}

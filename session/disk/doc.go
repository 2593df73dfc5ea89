// Package disk gives files and folders names that outlast a loss of power.
//
// What was written to a file is on the disk once that file is synced, and a name once the
// folder that has it is synced. Before that, after a loss of power, each may be there, or not,
// or half. So what is to be whole is written under another name, synced, and only then named;
// and what has a name gets its next one before it loses this one.
package disk

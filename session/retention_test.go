package session

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

// backupsAt are backups numbered from 1 on, newest first, made at the times given
// oldest first.
func backupsAt(times ...string) (all []Backup) {
	for i, at := range times {
		made, err := time.Parse("2006-01-02 15:04", at)
		if err != nil {
			panic(err)
		}
		all = append(all, Backup{Number: i + 1, Made: made})
	}
	slices.Reverse(all)
	return all
}

func numbers(list []Backup) (all []int) {
	for _, b := range list {
		all = append(all, b.Number)
	}
	return all
}

func TestABackupLeavesAsMuchSpaceAsItTakes(t *testing.T) {
	for free, want := range map[uint64]bool{0: false, 1000: false, 1999: false, 2000: true, 1 << 40: true} {
		if got := leavesSpace(1000, free); got != want {
			t.Errorf("leavesSpace(1000, %d) = %t, want %t", free, got, want)
		}
	}
}

func TestRetention(t *testing.T) {
	// 2026-03-02 is a Monday.
	for _, c := range []struct {
		name  string
		times []string
		want  []int
	}{
		{"nothing of few", []string{"2026-03-02 09:00", "2026-03-02 10:00", "2026-03-02 11:00"}, nil},
		{"the earlier ones of one day beyond the newest six", []string{
			"2026-03-02 09:00", "2026-03-02 10:00", "2026-03-02 11:00", "2026-03-02 12:00",
			"2026-03-02 13:00", "2026-03-02 14:00", "2026-03-02 15:00", "2026-03-02 16:00"}, []int{2, 1}},
		{"all but the last of an earlier day", []string{
			"2026-03-01 20:00", "2026-03-01 21:00", "2026-03-01 22:00",
			"2026-03-02 12:00", "2026-03-02 13:00", "2026-03-02 14:00", "2026-03-02 15:00", "2026-03-02 16:00", "2026-03-02 17:00"}, []int{2, 1}},
		{"of days beyond the seventh all but the last of their week", []string{
			"2026-02-23 09:00", "2026-02-24 09:00", "2026-02-25 09:00", // a week of its own
			"2026-03-02 09:00", "2026-03-03 09:00", "2026-03-04 09:00", "2026-03-05 09:00",
			"2026-03-06 09:00", "2026-03-07 09:00", "2026-03-08 09:00"}, []int{2, 1}},
		{"of weeks beyond the eighth all", []string{
			"2025-12-29 09:00", "2026-01-05 09:00", "2026-01-12 09:00", "2026-01-19 09:00", "2026-01-26 09:00",
			"2026-02-02 09:00", "2026-02-09 09:00", "2026-02-16 09:00", "2026-02-23 09:00", "2026-03-02 09:00"}, []int{2, 1}},
		{"by number, not by clock: one made while the clock was ahead pushes nothing out", []string{
			"2026-03-02 09:00", "2099-01-01 09:00", "2026-03-02 10:00", "2026-03-02 11:00", "2026-03-02 12:00",
			"2026-03-02 13:00", "2026-03-02 14:00", "2026-03-02 15:00"}, []int{1}},
	} {
		if got := numbers(expired(backupsAt(c.times...))); !slices.Equal(got, c.want) {
			t.Errorf("%s: expired lets go of %v, want %v", c.name, got, c.want)
		}
	}
}

// TestRetentionLeavesOldAndNew backs up every hour for 20 weeks.
func TestRetentionLeavesOldAndNew(t *testing.T) {
	var left []Backup
	at := time.Date(2026, 3, 2, 0, 30, 0, 0, time.UTC)
	for n := range 20 * 7 * 24 {
		left = append([]Backup{{Number: n + 1, Made: at.Add(time.Duration(n) * time.Hour)}}, left...)
		old := expired(left)
		left = slices.DeleteFunc(left, func(b Backup) bool { return slices.Contains(old, b) })
		if left[0].Number != n+1 || len(left) > retainNewest+retainDays+retainWeeks {
			t.Fatalf("after %d hours %v are left, want the newest and no more than %d", n, numbers(left), retainNewest+retainDays+retainWeeks)
		}
	}
	var ages []string
	for _, b := range left {
		ages = append(ages, fmt.Sprint(int(left[0].Made.Sub(b.Made).Hours())))
	}
	// The newest six; at 23:30 the last of each of seven days; the last of each of
	// eight weeks, the first of which is the newest.
	want := []string{"0", "1", "2", "3", "4", "5", "24", "48", "72", "96", "120", "144",
		"168", "336", "504", "672", "840", "1008", "1176"}
	if !slices.Equal(ages, want) {
		t.Errorf("left are those of %v hours ago, want %v", ages, want)
	}
}

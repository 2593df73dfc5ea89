package session_test

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session"
	"cornerwise/steps"
)

// oldStore is a copy of a store that an earlier schema left.
func oldStore(t *testing.T, schema string) string {
	t.Helper()
	data, err := os.ReadFile("../testdata/stores/" + schema + ".db")
	if err != nil {
		t.Fatal(err)
	}
	path := newPath(t)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// records are all records of a file by their path. sealed tells in which buckets of
// the first level values lie under a seal, which is held against the value and left
// out.
func records(t *testing.T, path string, sealed func(bucket string) bool) map[string]string {
	t.Helper()
	all := map[string]string{}
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second, ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var walk func(b *bolt.Bucket, at string, under bool)
	walk = func(b *bolt.Bucket, at string, under bool) {
		b.ForEach(func(key, value []byte) error {
			name := fmt.Sprintf("%s/%q", at, key)
			switch {
			case value == nil:
				walk(b.Bucket(key), name, under)
			case !under:
				all[name] = string(value)
			case len(value) < 8 || string(value) != string(seal(string(key), string(value[8:]))):
				t.Errorf("%s is %.80q, want it sealed", name, value)
			default:
				all[name] = string(value[8:])
			}
			return nil
		})
	}
	db.View(func(tx *bolt.Tx) error {
		return tx.ForEach(func(name []byte, b *bolt.Bucket) error {
			walk(b, string(name), sealed(string(name)))
			return nil
		})
	})
	return all
}

// What an earlier schema left: the session on the first page, whose ops are all its
// history but the plan; what a refused op was answered; who was let in.
var oldStores = []struct {
	schema  string
	sealed  func(bucket string) bool
	title   string
	ops     string
	done    int
	note    string
	refused string
	devices []session.Device
	secrets []string
	epoch   string
}{
	{schema: "1", sealed: func(string) bool { return false },
		title: "Harbour lanterns & tide", ops: "first note", done: 1, note: "thread <50> & needle 80",
		refused: "too soon"},
	{schema: "2", sealed: func(bucket string) bool { return bucket != "devices" && bucket != "meta" },
		title: "Harbour lanterns", ops: "first second note measure third undo redo fourth here", done: 1,
		note: "thread <50> & needle 80", refused: "too soon",
		devices: []session.Device{{Name: "Android tablet"}, {Name: "Android tablet 2", Rights: session.Rights{Looks: true}}},
		secrets: []string{"ZINBOB2MZFYKD2SOKAVKFHZ3G3", "I2SDFZHEMNPHH5A2CKHNCVUZT6"},
		epoch:   "UUAWDT3Q4LWT7BDIDJ6RTVBARX"},
	{schema: "3", sealed: func(bucket string) bool { return bucket != "meta" },
		title: "Harbour lanterns", ops: "first second note measure third undo redo fourth mid here", done: 1,
		note: "thread <50> & needle 80", refused: "too soon",
		devices: []session.Device{{Name: "Android tablet"}, {Name: "Android tablet 2", Rights: session.Rights{Looks: true}},
			{Name: "Android tablet 3", Rights: session.Rights{Only: "rna5poywanj7djzkdx4to6zad7"}}},
		secrets: []string{"VA5DKSJMNFSOZTICFBMUK3FHTL", "3P3D6UZUKPQAGTQFJMVBPLISM6", "NN3CWWLEFGO56Q2MH6NFVBXEG7"},
		epoch:   "SP6AATC3Q6HMINAICMXD4LMKOF"},
	{schema: "4", sealed: func(bucket string) bool { return bucket != "meta" },
		title: "Harbour lanterns & tide", ops: "first second note many measure undo redo fourth", done: 5,
		note: "thread <50> & needle 80", refused: "too soon",
		devices: []session.Device{{Name: "Sewing room tablet"}, {Name: "Sewing room tablet 2", Rights: session.Rights{Looks: true}},
			{Name: "Sewing room tablet 3", Rights: session.Rights{Only: "ryoupakd5zokdanfjglvpfqjlx"}}},
		secrets: []string{"YEKMB5P5WD3ZNLB2OGVEN6FIVI", "ARCBC273BST5WOVFRM52IZXDTG", "UEFP4TBPVSZNYR3FZ66KYULBPQ"},
		epoch:   "S55S3QEP6TQ3R33RWDR5QABOPO"},
}

func TestStoreOfEveryEarlierSchemaIsMigratedAndKeepsAll(t *testing.T) {
	for _, c := range oldStores {
		t.Run(c.schema, func(t *testing.T) {
			path := oldStore(t, c.schema)
			s := open(t, path, newClock().now)
			heads, _, err := s.List(10, "", false)
			if err != nil || len(heads) != 1 || heads[0].Title != c.title ||
				int(heads[0].Rev) != 1+len(strings.Fields(c.ops)) || heads[0].Done != c.done {
				t.Fatalf("List = %+v, %v, want the one session, %d done", heads, err, c.done)
			}
			id := heads[0].ID
			binned, _, err := s.List(10, "", true)
			if err != nil || len(binned) != 1 || binned[0].Rev != 1 {
				t.Errorf("List of the bin = %+v, %v, want one", binned, err)
			}
			entries := history(t, s, id)
			var ids []string
			var noted string
			for _, e := range entries[1:] {
				ids = append(ids, e.ID)
				noted += e.Text
			}
			if strings.Join(ids, " ") != c.ops || noted != c.note || entries[0].Kind != steps.KindPlan {
				t.Fatalf("History = %v with the note %q, want %q and %q", ids, noted, c.ops, c.note)
			}
			differ(t, "the state", state(t, get(t, s, id).Work), state(t, foldPlain(t, entries)))
			for i, e := range entries {
				if rev, err := s.Do(ctx, id, e.Op); rev != int64(i)+1 || err != nil {
					t.Errorf("%q sent again = %d, %v, want %d", e.ID, rev, err, i+1)
				}
			}
			if _, err := s.Do(ctx, id, note(c.refused, get(t, s, id).Work, "")); err == nil {
				t.Errorf("%q sent again is taken, want the refusal of before", c.refused)
			}
			d := openDevices(t, s)
			for i, secret := range c.secrets {
				got, _, in := d.Enter(ctx, secret)
				if want := c.devices[i]; !in || got.Name != want.Name || got.Rights != want.Rights {
					t.Errorf("the device %d is in: %t, as %+v, want %+v", i+1, in, got, want)
				}
			}
			if got := len(d.List()); got != len(c.devices) {
				t.Errorf("%d devices are let in, want %d", got, len(c.devices))
			}
			if s.Epoch() != c.epoch {
				t.Errorf("the epoch is %q, want %q", s.Epoch(), c.epoch)
			}
		})
	}
}

// Each record is what it was, under a seal now; only the version and what is derived
// from the ops may differ.
func TestMigrationsSealEveryRecordAsItWas(t *testing.T) {
	for _, c := range oldStores {
		path := oldStore(t, c.schema)
		before := records(t, path, c.sealed)
		open(t, path, newClock().now).Close()
		after := records(t, path, func(bucket string) bool { return bucket != "meta" })
		for _, all := range []map[string]string{before, after} {
			maps.DeleteFunc(all, func(name, _ string) bool {
				return name == `meta/"version"` || name == `meta/"sealed"` || name == `meta/"edition"` || strings.HasSuffix(name, `/"head"`)
			})
		}
		names := slices.Sorted(maps.Keys(before))
		if len(names) < 10 {
			t.Errorf("schema %s has %d records only: this proves nothing", c.schema, len(names))
		}
		for _, name := range names {
			if after[name] != before[name] {
				t.Errorf("schema %s: %s is\n%q, was\n%q", c.schema, name, after[name], before[name])
			}
		}
		if len(after) != len(before) {
			t.Errorf("schema %s: there are %d records, were %d", c.schema, len(after), len(before))
		}
	}
}

// Devices are written as the schema of the file is that they go into: a backup of an
// earlier one may be put in place of today's, and the other way round.
func TestDevicesOutliveARestoreAcrossSchemas(t *testing.T) {
	second := oldStores[1]
	today := func(t *testing.T) (path, secret string) {
		path = newPath(t)
		s := open(t, path, newClock().now)
		create(t, s)
		secret, _ = letIn(t, openDevices(t, s), false)
		s.Close()
		return path, secret
	}
	t.Run("an earlier backup into today's store", func(t *testing.T) {
		for _, c := range oldStores {
			path, secret := today(t)
			restored, err := session.Restore(path, oldStore(t, c.schema), newClock().now(), letGo)
			if err != nil || !restored.Devices || restored.Report.Sessions != 2 {
				t.Fatalf("schema %s: Restore = %+v, %v, want the devices kept", c.schema, restored, err)
			}
			checkFile(t, path)
			s := open(t, path, newClock().now)
			d := openDevices(t, s)
			if list := d.List(); len(list) != 1 || !isIn(d, secret) || isIn(d, second.secrets[0]) {
				t.Errorf("schema %s: %+v are let in, want the one of today", c.schema, list)
			}
			if s.Epoch() == c.epoch {
				t.Errorf("schema %s: the epoch is that of the backup", c.schema)
			}
		}
	})
	t.Run("a backup of today into an earlier store", func(t *testing.T) {
		for _, c := range oldStores {
			backup, secret := today(t)
			path := oldStore(t, c.schema)
			if _, err := session.Restore(path, backup, newClock().now(), letGo); err != nil {
				t.Fatalf("schema %s: Restore: %v", c.schema, err)
			}
			checkFile(t, path)
			d := openDevices(t, open(t, path, newClock().now))
			if list := d.List(); len(list) != len(c.devices) || isIn(d, secret) {
				t.Errorf("schema %s: %+v are let in, want those of the store", c.schema, list)
			}
			for _, old := range c.secrets {
				if !isIn(d, old) {
					t.Errorf("schema %s: a device of the store is shut out", c.schema)
				}
			}
		}
	})
	t.Run("a backup of one earlier schema into a store of another", func(t *testing.T) {
		path := oldStore(t, "2")
		if _, err := session.Restore(path, oldStore(t, "1"), newClock().now(), letGo); err != nil {
			t.Fatal(err)
		}
		checkFile(t, path)
		if d := openDevices(t, open(t, path, newClock().now)); !isIn(d, second.secrets[0]) || !isIn(d, second.secrets[1]) {
			t.Errorf("%+v are let in, want those of the store", d.List())
		}
	})
}

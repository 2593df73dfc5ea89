package session_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session"
	"cornerwise/steps"
)

// photographed is a plan whose border names a photo.
func photographed(photo string) json.RawMessage {
	return json.RawMessage(fmt.Sprintf(`{"center":{"width":"20","length":"30"},"borders":[{"cut":"4","photo":%q}]}`, photo))
}

func keptPhoto(t *testing.T, s *session.Store, data string) string {
	t.Helper()
	id, err := s.KeepPhoto(ctx, []byte(data))
	if err != nil {
		t.Fatalf("KeepPhoto: %v", err)
	}
	return id
}

func hasPhoto(t *testing.T, s *session.Store, id, want string) {
	t.Helper()
	data, err := s.Photo(id)
	if string(data) != want || (err != nil) != (want == "") || err != nil && !errors.Is(err, session.ErrNoPhoto) {
		t.Errorf("Photo(%s) = %q, %v, want %q", id, data, err, want)
	}
}

func TestAPhotoIsKeptOnceAndOutlivesARestart(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	id := keptPhoto(t, s, "blue stripes")
	if again := keptPhoto(t, s, "blue stripes"); again != id {
		t.Errorf("the same photo has the ids %s and %s", id, again)
	}
	swatch, err := s.KeepSwatch(ctx, id, []byte("one repeat"))
	if err != nil || !strings.HasPrefix(swatch, id+"-") {
		t.Fatalf("KeepSwatch = %q, %v", swatch, err)
	}
	s.Close()
	s = open(t, path, newClock().now)
	hasPhoto(t, s, id, "blue stripes")
	hasPhoto(t, s, swatch, "one repeat")
	for _, none := range []string{"", "../cornerwise.db", strings.Repeat("0", 32), id + "-" + strings.Repeat("0", 16)} {
		hasPhoto(t, s, none, "")
	}
}

func TestAPlanMayNameOnlyAPhotoThatIsKept(t *testing.T) {
	s := newStore(t)
	none := strings.Repeat("a", 32)
	var refusal *steps.Refusal
	if _, err := s.Create(ctx, photographed(none)); !errors.As(err, &refusal) ||
		refusal.Code != steps.BadPlan || refusal.Field != "borders[0].photo" {
		t.Errorf("Create with a photo that is not there = %v, want its field", err)
	}
	head := create(t, s)
	op := steps.Op{ID: "photo", Kind: steps.KindPlan, Plan: photographed(none)}
	if _, err := s.Do(ctx, head.ID, op); !errors.As(err, &refusal) || refusal.Field != "borders[0].photo" {
		t.Errorf("Do with a photo that is not there = %v, want its field", err)
	}
	op.Plan = photographed(keptPhoto(t, s, "green vines"))
	do(t, s, head.ID, op)
	if got := get(t, s, head.ID).Work.Plan.Borders[0].Photo; len(got) != 32 {
		t.Errorf("the plan has the photo %q", got)
	}
}

// What no session has named for a day goes; what one names stays, and is in the backups once.
func TestPhotosThatNobodyNamesAreTidiedAway(t *testing.T) {
	c := newClock()
	path := newPath(t)
	s := open(t, path, c.now)
	named, loose := keptPhoto(t, s, "named"), keptPhoto(t, s, "loose")
	swatch, err := s.KeepSwatch(ctx, named, []byte("one repeat"))
	if err != nil {
		t.Fatal(err)
	}
	head, err := s.Create(ctx, photographed(swatch))
	if err != nil {
		t.Fatal(err)
	}
	tidy := func() {
		t.Helper()
		if err := s.TidyPhotos(ctx); err != nil {
			t.Fatalf("TidyPhotos: %v", err)
		}
	}
	tidy()
	hasPhoto(t, s, loose, "loose")
	c.move(25 * time.Hour)
	again := keptPhoto(t, s, "loose, but asked for again")
	tidy()
	hasPhoto(t, s, loose, "")
	hasPhoto(t, s, again, "loose, but asked for again")
	if err := s.Bin(ctx, head.ID); err != nil { // it can be taken out again
		t.Fatal(err)
	}
	c.move(25 * time.Hour)
	tidy()
	hasPhoto(t, s, named, "named")
	hasPhoto(t, s, swatch, "one repeat")

	// A damaged or lost file is read from the backups.
	folder := filepath.Dir(path)
	if err := os.WriteFile(filepath.Join(folder, "photos", named), []byte("damaged"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(folder, "photos", swatch)); err != nil {
		t.Fatal(err)
	}
	hasPhoto(t, s, named, "named")
	hasPhoto(t, s, swatch, "one repeat")
	if copies, _ := os.ReadDir(filepath.Join(folder, "backups", "photos")); len(copies) != 2 {
		t.Errorf("the backups have %d photos, want 2", len(copies))
	}
}

// A photo counts as what a device adds.
func TestAPhotoIsChargedToItsDevice(t *testing.T) {
	s := newStore(t)
	account := &session.Account{}
	charged := session.Charged(ctx, account)
	big := strings.Repeat("x", session.MaxBytes/2)
	if _, err := s.KeepPhoto(charged, []byte("1"+big)); err != nil {
		t.Fatal(err)
	}
	if _, err := s.KeepPhoto(charged, []byte("1"+big)); err != nil {
		t.Errorf("the same photo again: %v, want it for nothing", err)
	}
	var spent *session.Spent
	if _, err := s.KeepPhoto(charged, []byte("2"+big)); !errors.As(err, &spent) {
		t.Errorf("KeepPhoto beyond what a device may add = %v", err)
	}
}

// A backup that is carried off has the photos of its quilts, and a restore lays them beside the
// store again; the store itself has none.
func TestABackupThatIsCarriedOffHasItsPhotos(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	named, _ := keptPhoto(t, s, "named"), keptPhoto(t, s, "loose")
	swatch, err := s.KeepSwatch(ctx, named, []byte("one repeat"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Create(ctx, photographed(swatch)); err != nil {
		t.Fatal(err)
	}
	s.Close()
	stick := filepath.Join(t.TempDir(), "stick.db")
	if _, err := session.Copy(path, stick); err != nil {
		t.Fatalf("Copy: %v", err)
	}
	other := newPath(t)
	if _, err := session.Restore(other, stick, newClock().now(), letGo); err != nil {
		t.Fatalf("Restore: %v", err)
	}
	there := open(t, other, newClock().now)
	hasPhoto(t, there, named, "named")
	hasPhoto(t, there, swatch, "one repeat")
	if files, _ := os.ReadDir(filepath.Join(filepath.Dir(other), "photos")); len(files) != 2 {
		t.Errorf("%d photos were laid beside the store, want the two that are named", len(files))
	}
	there.Close()
	inFile(t, other, func(tx *bolt.Tx) {
		if tx.Bucket([]byte("packed")) != nil {
			t.Error("the store holds the photos too")
		}
	})
}

// An export has the photos where they are asked for, and what is taken along has them always; who
// imports it has them before the quilt.
func TestAnExportBringsItsPhotos(t *testing.T) {
	s := newStore(t)
	picture := strings.Repeat("vines and leaves ", 9000) // of several parts
	named := keptPhoto(t, s, picture)
	swatch, err := s.KeepSwatch(ctx, named, []byte("one repeat"))
	if err != nil {
		t.Fatal(err)
	}
	head, err := s.Create(ctx, photographed(swatch))
	if err != nil {
		t.Fatal(err)
	}
	var without, with, along bytes.Buffer
	for _, err := range []error{s.ExportTo(head.ID, &without), s.ExportWithPhotosTo(head.ID, &with), s.AlongTo(&along)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	bare := newStore(t)
	if _, err := bare.Import(ctx, &without); err != nil {
		t.Fatalf("Import without the photos: %v", err)
	}
	hasPhoto(t, bare, swatch, "")
	for name, take := range map[string]func(s *session.Store) error{
		"Import": func(s *session.Store) error { _, err := s.Import(ctx, bytes.NewReader(with.Bytes())); return err },
		"TakeIn": func(s *session.Store) error {
			in, err := s.TakeIn(ctx, &along)
			if len(in.Added) != 1 {
				t.Errorf("TakeIn added %+v", in)
			}
			return err
		},
	} {
		other := newStore(t)
		if err := take(other); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		hasPhoto(t, other, named, picture)
		hasPhoto(t, other, swatch, "one repeat")
	}
	changed := strings.Replace(with.String(), `"data":"`, `"data":"AAAA`, 1)
	var refusal *steps.Refusal
	if _, err := newStore(t).Import(ctx, strings.NewReader(changed)); !errors.As(err, &refusal) || refusal.Code != session.BadImport {
		t.Errorf("Import of a photo that was changed: %v, want %s", err, session.BadImport)
	}
}

package session_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
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

// An op that was answered is not looked at again, whatever has become of its photo.
func TestAPlanThatIsSentAgainGetsItsAnswer(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	head, photo := create(t, s), keptPhoto(t, s, "green vines")
	op := steps.Op{ID: "photo", Kind: steps.KindPlan, Plan: photographed(photo)}
	do(t, s, head.ID, op)
	do(t, s, head.ID, steps.Op{ID: "none", Kind: steps.KindPlan, Plan: plan})
	if err := os.Remove(filepath.Join(filepath.Dir(path), "photos", photo)); err != nil {
		t.Fatal(err)
	}
	if rev, err := s.Do(ctx, head.ID, op); rev != 2 || err != nil {
		t.Errorf("Do again = %d, %v, want revision 2", rev, err)
	}
	out, end := context.WithCancelCause(ctx)
	end(session.ErrForgotten)
	if _, err := s.Do(out, head.ID, op); !errors.Is(err, session.ErrForgotten) {
		t.Errorf("Do again of who was forgotten: %v, want ErrForgotten", err)
	}
	if err := s.Bin(ctx, head.ID); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Do(ctx, head.ID, op); !errors.Is(err, session.ErrBinned) {
		t.Errorf("Do again in the bin: %v, want ErrBinned", err)
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

// Somebody may be about to keep the plan that asks for it.
func TestAPhotoThatAPlanAsksForStaysForADayAgain(t *testing.T) {
	c := newClock()
	s := open(t, newPath(t), c.now)
	photo := keptPhoto(t, s, "green vines")
	c.move(20 * time.Hour)
	swatch, err := s.KeepSwatch(ctx, photo, []byte("one repeat"))
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		c.move(20 * time.Hour)
		if err := s.TidyPhotos(ctx); err != nil {
			t.Fatal(err)
		}
		hasPhoto(t, s, swatch, "one repeat")
		hasPhoto(t, s, photo, "green vines")
		spent := &session.Account{}
		for range session.MaxSessions {
			if _, err := s.Create(session.Charged(ctx, spent), plan); err != nil {
				t.Fatal(err)
			}
		}
		var refusal *session.Spent
		if _, err := s.Create(session.Charged(ctx, spent), photographed(swatch)); !errors.As(err, &refusal) {
			t.Fatalf("Create beyond what a device may add = %v", err)
		}
	}
}

// A program that is stopped leaves what it had half written.
func TestWhatWasLeftHalfWrittenOfPhotosIsTidiedAway(t *testing.T) {
	c := newClock()
	path := newPath(t)
	s := open(t, path, c.now)
	damaged := keptPhoto(t, s, "red dots")
	if _, err := s.Create(ctx, photographed(damaged)); err != nil {
		t.Fatal(err)
	}
	folder := filepath.Dir(path)
	left := func(in, name string) string {
		half := filepath.Join(folder, in, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(half), 0o700), os.WriteFile(half, nil, 0o600), os.Chtimes(half, c.now(), c.now())); err != nil {
			t.Fatal(err)
		}
		return half
	}
	halves := []string{
		left("photos", strings.Repeat("f", 32)+".12.half-made"),
		left(filepath.Join("backups", "photos"), strings.Repeat("f", 32)+"-"+strings.Repeat("0", 16)+".7.half-made"),
	}
	mine := left("photos", "mine")
	// Before them comes one that is damaged, and has no copy.
	if err := os.WriteFile(filepath.Join(folder, "photos", damaged), []byte("damaged"), 0o600); err != nil {
		t.Fatal(err)
	}
	c.move(25 * time.Hour)
	if err := s.TidyPhotos(ctx); !errors.Is(err, session.ErrNoPhoto) {
		t.Errorf("TidyPhotos where one is damaged: %v, want that told", err)
	}
	for _, half := range halves {
		if _, err := os.Stat(half); err == nil {
			t.Errorf("%s is there still", half)
		}
	}
	if _, err := os.Stat(mine); err != nil {
		t.Errorf("what somebody else put there: %v", err)
	}
}

// Many small files take more of the disk than they hold.
func TestASmallPhotoIsChargedAsTheDiskHasIt(t *testing.T) {
	s := newStore(t)
	charged := session.Charged(ctx, &session.Account{})
	if _, err := s.KeepPhoto(charged, bytes.Repeat([]byte("x"), session.MaxBytes-10*4096)); err != nil {
		t.Fatal(err)
	}
	n := 0
	for n < 20 {
		if _, err := s.KeepPhoto(charged, fmt.Append(nil, n)); err != nil {
			break
		}
		n++
	}
	if n != 10 {
		t.Errorf("10 blocks of 4 KiB were left, and %d photos of a few bytes were kept", n)
	}
}

// Every drawing of a fabric reads its swatch.
func TestASwatchThatIsImportedIsSmall(t *testing.T) {
	s := newStore(t)
	swatch, err := s.KeepSwatch(ctx, keptPhoto(t, s, "vines"), bytes.Repeat([]byte("x"), 129<<10))
	if err != nil {
		t.Fatal(err)
	}
	head, err := s.Create(ctx, photographed(swatch))
	if err != nil {
		t.Fatal(err)
	}
	var with bytes.Buffer
	if err := s.ExportWithPhotosTo(head.ID, &with); err != nil {
		t.Fatal(err)
	}
	var refusal *steps.Refusal
	if _, err := newStore(t).Import(ctx, &with); !errors.As(err, &refusal) || refusal.Code != session.BadImport {
		t.Errorf("Import of a swatch of 129 KiB: %v, want %s", err, session.BadImport)
	}
}

// A packed photo is laid under its own name, and nowhere else.
func TestARestoreLaysPhotosIntoTheirFolderOnly(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	photo := keptPhoto(t, s, "named")
	s.Close()
	inFile(t, path, func(tx *bolt.Tx) {
		packed, err := tx.CreateBucket([]byte("packed"))
		if err == nil {
			key := []byte("../" + photo)
			err = packed.Put(key, session.Sealed(key, []byte("named")))
		}
		if err != nil {
			t.Fatal(err)
		}
	})
	other := newPath(t)
	if _, err := session.Restore(other, path, newClock().now(), letGo); err != nil {
		t.Fatalf("Restore: %v", err)
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(other), photo)); err == nil {
		t.Error("a photo was laid beside the store")
	}
}

// What could not be kept is charged to nobody.
func TestAPhotoThatIsNotKeptIsNotCharged(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	if err := os.WriteFile(filepath.Join(filepath.Dir(path), "photos"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	account := &session.Account{Wider: &session.Account{}}
	if _, err := s.KeepPhoto(session.Charged(ctx, account), []byte("grey dots")); err == nil {
		t.Fatal("the photo is kept where a file is in the way")
	}
	if account.Used() || account.Wider.Used() {
		t.Errorf("it was charged to the device (%t) or its network (%t)", account.Used(), account.Wider.Used())
	}
}

// The context of a device that is forgotten is at its end.
func TestNothingOfAnImportIsKeptOfWhoIsForgotten(t *testing.T) {
	s, other := newStore(t), newStore(t)
	photo := keptPhoto(t, s, "green vines")
	head, err := s.Create(ctx, photographed(photo))
	if err != nil {
		t.Fatal(err)
	}
	var with bytes.Buffer
	if err := s.ExportWithPhotosTo(head.ID, &with); err != nil {
		t.Fatal(err)
	}
	forgotten, forget := context.WithCancel(ctx)
	forget()
	if _, err := other.Import(forgotten, &with); !errors.Is(err, context.Canceled) {
		t.Errorf("Import = %v, want the context's end", err)
	}
	hasPhoto(t, other, photo, "")
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

// Where the disk has lost one, its copy does as well. A folder in its place can be opened, and not
// read, like a file on bad blocks.
func TestAPhotoThatCannotBeReadIsTakenFromTheBackups(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	photo := keptPhoto(t, s, "green vines")
	head, err := s.Create(ctx, photographed(photo))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.TidyPhotos(ctx); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(filepath.Dir(path), "photos", photo)
	if err := errors.Join(os.Remove(file), os.Mkdir(file, 0o700)); err != nil {
		t.Fatal(err)
	}
	hasPhoto(t, s, photo, "green vines")
	if err := s.ExportWithPhotosTo(head.ID, io.Discard); err != nil {
		t.Errorf("ExportWithPhotosTo: %v", err)
	}
	s.Close()
	stick, other := filepath.Join(t.TempDir(), "stick.db"), newPath(t)
	if _, err := session.Copy(path, stick); err != nil {
		t.Fatalf("Copy: %v", err)
	}
	if _, err := session.Restore(other, stick, newClock().now(), letGo); err != nil {
		t.Fatalf("Restore: %v", err)
	}
	hasPhoto(t, open(t, other, newClock().now), photo, "green vines")
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

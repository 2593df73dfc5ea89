// Package session keeps the sessions: ops on disk, revisions, watches, the bin, export and
// import, checks, backups, and the devices that may come in.
//
// A session is its ops. The first is the plan and makes revision 1; every op that is taken
// adds 1. What a session looks like is what steps makes of the ops. An op that was
// acknowledged is on disk.
//
// # The stored form
//
// All of it lies in one bbolt file:
//
//	meta/version           the schema, a decimal number: how many migrations ran; bare
//	meta/sealed            the same, sealed
//	meta/past              the store's epoch (Store.Epoch); since the first Restore
//	meta/edition           the edition of the procedure that the heads are of, sealed
//	sessions/ID/head       Head
//	sessions/ID/ops/REV    steps.Entry; REV is 8 bytes, big endian, without a gap
//	sessions/ID/seen/OP    what the op with that id was answered
//	photos/PHOTO+ID        nothing, sealed; PHOTO is what a plan of the session names (photo.go)
//	bookmarks/ID           where a long history is opened: the SHA-256 of the program, the
//	                       revision (8 bytes, big endian), steps.Bookmark; may be missing
//	recent/TOUCHED+ID      nothing; the list, last touched first
//	bin/TOUCHED+ID         nothing; the same for the sessions in the bin
//	devices/HASH           Device; HASH is the SHA-256 of its secret, in hexadecimal
//
// A value is JSON (in meta: text, in bookmarks: as drawn) under a seal, which tells whether it is
// as it was written: the CRC-32C of key and value and the value's length, 4 bytes each, big
// endian, then the value. TOUCHED is Head.Touched in milliseconds since 1970, 8 bytes, big endian, with every
// bit inverted, so that the latest comes first. The head is kept so that a list need not read
// ops; the last act and the next one stand in it in words, of an op that was taken since it has
// them.
//
// An entry has the name of the device that did the op (by), as it was named then: the context of
// a device says it (Named), no op does. The computer that serves has no name, and entries of
// before, or from another computer, may have none either: Head.Named tells which. A program that
// is older passes over it; it refuses an export that has it. An import keeps the names that it
// comes with.
//
// The schema changes by migrations, an ordered list that is only ever appended to; its length
// is the version. Version 4 changed no record: from it on an op may do several ticks, which a
// program of before would pass over. From version 5 on a plan may name a photo of its fabric. A store of an older schema is backed up before it is
// migrated; one of a newer program is refused. testdata/stores has a file of each earlier schema.
//
// # Every record is sealed, and read through
//
// bbolt checks its two meta pages and nothing else; a byte that the disk changed would be read
// as it is. A value that does not agree with its seal is ErrDamaged, never a wrong number on a
// cutting step. The schema's version stands bare beside its sealed copy: every program can
// read it, and a damaged one is not mistaken for that of a newer program. The record of a
// device that can't be read is no damage: that device pairs again.
//
// A file is read through before bbolt gets it (check.go, on pages.go), by plain reads that
// trust no number in it. bbolt maps a file and believes it: one that was cut or changed ends
// the process by a fault of memory, by a panic in a goroutine that nobody can catch, or by a
// page that leads to itself. The same reading checks backups, and an open store from within a
// transaction. Bytes that are in use nowhere may be anything. One damaged meta page is no
// reason to stop, as a write that was cut leaves one; Report.Half says that the last op may be
// missing. Where the file is damaged while it is open, bbolt's panics and faults become
// ErrDamaged (faultAsDamage).
//
// # Photos of fabric
//
// A photo, and a swatch that was cut from it, is a file of its own in the folder photos beside the
// store, named by its SHA-256 and never changed (photo.go): on the disk once, however many quilts
// name it. It is written and synced before a plan may name it, so no quilt is without its photo;
// the plan's transaction notes who names it. One that nobody has named for a day is removed, the
// others are copied to the backups, each once (phototidy.go); a file that is lost or damaged is
// read from there. What is carried off is one file: a backup has its photos in a bucket of their
// own (photopack.go), and what is taken along, or an export where that is asked, in its lines
// (photoexport.go). TestAPlanMayNameOnlyAPhotoThatIsKept, TestPhotosThatNobodyNamesAreTidiedAway,
// TestABackupThatIsCarriedOffHasItsPhotos, TestAnExportBringsItsPhotos
//
// # Answers
//
// An op that clashed with others is remembered like one that was taken: the same id gets the
// same answer, as a client that lost the first answer expects. What is wrong in itself is
// wrong again by itself, and is not kept.
//
// Events are told after the commit, never before. An event is one pointer in each watch and
// written as JSON once for all of them. A watch that lags too far behind ends, so that it
// holds up nobody; who had it reads the session afresh. Few sessions are in memory whole,
// watched or not (loaded.go); the others are read from the file for their next op.
//
// # What a device may add
//
// What is asked for in the context of a device is charged to it (allowance.go): sessions that it
// begins, and bytes of records and of photos. The committer counts, right before it puts, so that
// many at once get no further than one does; a commit that fails charges nobody. The sum stands in
// the device's record: at once when it begins a session, else when 64 KiB have come together, so
// that a restart forgets no more. It begins anew by Allow, and when the device is paired anew. The
// owner has no account. Bytes are those of keys and values; the pages of the file, and backups,
// come on top.
//
// # The power may go at any moment
//
// What is written is on the disk once it is synced, and a name once its folder is
// (session/disk). So a new store, a copy and a backup are made under another name and named
// when they are whole, and a restore gives the store a second name before the backup takes the
// first. A start syncs what it finds before it goes on from there, and clears away what was
// left half made. bbolt shows a commit in its map before the disk has it; a read begins only
// between commits (opened.go), so that nobody holds a revision that would be given to another
// op. Where the last sync of a commit fails nobody knows whether the disk has it: it is
// ErrUnsure, and nothing more is read from the file or written to it before a new start.
//
// # Bookmarks
//
// A history may be long: 400 changes of a plan with twelve borders take 20 s to go through.
// Whenever the ops since the last one take more than 0.1 s, the work as it stands is kept as a
// bookmark, beside the ops and after them, and opening begins there. A session is read once for
// all who open it, some ops at a time (loaded.go). A bookmark is of one program, told by the
// SHA-256 of its file: another reckons from the ops, as ever, and when it starts it makes those
// that are there anew, so that nobody waits for it. Nothing rests on a bookmark: it is no part
// of a store's sum, one that is damaged is none, and where the disk is nearly full none is kept.
//
// # Backups
//
// The store's own backups (backup.go) are copies made in a read transaction while it serves:
// written under another name, synced, read through, and only then named. Their number is
// their order, and retention.go counts days and weeks that have backups rather than back from
// today, so that no clock can make the good ones old. The sum of a store is over its records,
// not over its pages: by that a backup is known to have everything already. A store that does
// not pass its check makes no backup, as that would push out a good one. A store that is gone
// while its backups are there is not made anew. A copy holds a read transaction for as long as
// it takes; a writer waits for it only when the file's map must grow.
//
// # Taken along
//
// AlongTo writes all sessions but those in the bin, as lines, and TakeIn adds those of such a file
// (along.go). A line that is damaged loses no other, nothing is unpacked, and a file of any size
// is read with one session in memory. A quilt is known again by its first op, whose id is random:
// its histories are compared op by op, and nothing that is here is changed; an earlier state goes
// into the bin. TestAllQuiltsAreTakenAlong, TestAQuiltGoesOnElsewhereAndComesBack,
// TestWhatIsWrongInAFileOfQuilts, TestAHugeFileOfQuiltsHoldsLittle
//
// # Restore
//
// Restore changes a closed store only. The copy is made and read through first; then who
// serves the store is asked to let go of it. The lock is on the file, so who waited for it
// looks whether the file still has the name (openNamed). The devices stay those of today, as
// long as the store can be read: a backup must not let in again who was shut out. Each Restore
// begins another epoch: a client says in which epoch its revision counts, so that one that
// slept through the restore is not told that it is in step when the work has come as far
// again.
//
// # What may go wrong
//
// Each fault, what happens, and the tests that bring it about: with the program as built
// (cmd/cornerwise) or a process of its own (this package), on real files.
//
// fault | what happens | test
//
//   - killed at any moment, 200 times (100 with the race detector) with eight writers and a backup
//     going on, 40 times as the program | every op that was acknowledged is there, under its revision; store and
//     backups pass their check | TestKillLosesNothing,
//     TestKilledProcessLosesNothingAcknowledged
//   - stopped under load (SIGTERM) | every acknowledged op is there, every device is told to
//     come back, the program is gone within 2 s, also where a device reads nothing |
//     TestStopUnderLoad
//   - the disk is full | 503 disk-full and what to do; reading goes on, and so does writing
//     once there is space | TestFullDiskIsSaidAndLosesNothingAnswered,
//     TestFullDiskIsSaidAndNothingIsLost
//   - a backup would take the space that ticks need | none is made, and the log says so; ticks
//     go on | TestBackupLeavesSpaceForTicks
//   - photos would take it | 503 disk-full; those that nobody names are tidied away also where no
//     backup has room | TestPhotosLeaveSpaceForTicks,
//     TestPhotosAreTidiedAwayWhereThereIsNoRoomForABackup
//   - the disk is full at the start | a sentence; no half-made store |
//     TestFullDiskAtTheStartIsSaid
//   - the power goes, at any moment of a first start, of ticks, backups, restores, migrations,
//     imports | every op that was answered is there, no start is refused, what was half made is
//     made again | TestNothingAnsweredIsLostWhenThePowerGoes
//   - every file call of a kind fails, at each deed that changes names | a sentence, the store
//     as it was, nothing half made; afterwards it can be done |
//     TestAFaultAtEveryEdgeIsSaidAndLeavesNothingHalfMade
//   - a sync takes long | who reads waits for it, or sees the state before; a stop does not wait |
//     TestADeviceIsShownOnlyWhatIsOnTheDisk, TestAStopOnASlowDiskIsAStop
//   - the last sync of a commit fails | 503 disk-failed and what to do; what was answered is
//     there after a start | TestADiskThatFailsIsSaidAndNothingUnansweredIsShown
//   - a restore is stopped on its way | the store has its name at each moment; where a file
//     system knows no second names, the start names what was set aside |
//     TestOpenClearsAwayWhatARestoreLeft, TestAStoreThatWasOnlySetAsideIsNotMadeAnew
//   - the disk or folder is to read only | a sentence; check and backup work |
//     TestReadOnlyDiskIsSaid
//   - another process has the store | a sentence | TestWhatCanNotBeServed, TestOpenRefuses
//   - cut short, bits flipped, overwritten, emptied, gone | refused and left as it is, with
//     the newest good backup and the command that restores it |
//     TestBrokenStoreIsRefusedAndTheNewestGoodBackupOffered,
//     TestStoreCutShortIsFoundWhereverItIsCut
//   - any one bit flipped | found at the start, or nothing that the store gives out differs |
//     TestFlippedBitIsFoundOrHarmless
//   - one of bbolt's two meta pages damaged | it goes on from the other, at most the last op is
//     missing; the log and check say so, the next op mends the page |
//     TestOneOfTheTwoFirstPagesDamaged
//   - the record of a device damaged | that device pairs again; the log and check say so |
//     TestDeviceRecordThatCannotBeReadPairsAgain, TestCheckNamesDevicesThatMustPairAgain
//   - damaged while it serves | 503 damaged and what to do, /healthz says so, the program
//     stays up | TestDamageWhileServingIsSaidAndTheProgramStaysUp,
//     TestFileDamagedWhileItIsOpenIsSaidAndEndsNothing, TestFlippedRecordIsFoundWhenItIsRead
//   - the backups are damaged too | the newest that is good is named; none is removed |
//     TestNewestGoodBackupSkipsTheDamagedOnes, TestBrokenStoreWithoutAGoodBackupSaysSo
//   - written by a newer program | a sentence; nothing is changed | TestWhatCanNotBeKept,
//     TestOpenRefuses
//   - written by an older one | backed up, then migrated; everything is there |
//     TestStoreIsBackedUpBeforeItIsMigrated,
//     TestStoreOfEveryEarlierSchemaIsMigratedAndKeepsAll,
//     TestMigrationsSealEveryRecordAsItWas
//   - a backup of an older program is restored, or one of today into an older store | the
//     devices stay those of the store | TestDevicesOutliveARestoreAcrossSchemas
//   - the clock is set, back or forth | no time in a session runs backwards, each session is
//     listed once, backups go by their number; an import that lies more than a day ahead is
//     refused with a sentence | TestClockThatIsSetLosesNothing,
//     TestClockSetBackSinceTheLastOp, TestBackupsGoByNumberWhenTheClockIsSetBack
//   - anything of this in any order, from several devices that go away, lose answers and send
//     again | the session is what steps make of the ops that were taken, each device hears
//     each once, every check passes | TestStoreIsAFoldOfItsOps
//   - a backup is restored while devices work | the server stands aside for it; each op that
//     was acknowledged is in what was set aside or in the store; devices come back by
//     themselves, and who was shut out stays out | TestRestoreWhileServing,
//     TestAPageGoesBackWithItsServer, TestRestoreKeepsTheDevicesOfToday
//   - that restore is killed, or the server is stopped meanwhile | the server goes on; it
//     stops | TestServerGoesOnWhenARestoreIsKilled, TestStopWhileStandingAside
//   - started while a backup is put in place | refused, or it serves what was put there |
//     TestOpenWhileABackupIsPutInPlace
package session

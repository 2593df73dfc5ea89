// Package web serves the pages, the JSON API and the websocket: it parses, calls the store,
// and replies.
//
//	routes.go   every address, and who may use it
//	access.go   how that is held to
//	door.go     which Host and Origin may come; the headers of every reply
//	visitor.go  who a request comes from
//	errors.go   what is said when something can't be done
//	api.go      what programs call; body.go reads it
//	live.go     the websocket
//	pages.go    the pages, with a file each (pages_session.go and so on)
//	opens.go    the QR codes on paper, which open a page again
//
// # Who may come in
//
// The owner is whoever comes from a loopback address with a loopback Host. Any other device
// pairs once and keeps a secret in a cookie: 130 random bits, of which the store has only the
// SHA-256. A slow hash is for secrets that people think up.
//
// What lets a device in is an offer (session.Offer). It is in memory only, lasts 10 minutes,
// and is used up by the first device that brings its token (from the QR code) or its code
// (typed). A code has 8 digits, for the number keys of a tablet. Of 10^8 codes, the 100 wrong
// guesses that an hour allows hit the one that stands with a chance of 1 in 10^6; of offers with
// other rights at most 16 stand beside each other. Nobody guesses a token of 130 bits: the right
// one is taken however many wrong guesses came before.
//
// The cookie is SameSite=Lax and not Strict, so that a link in a message opens a session as a
// saved address does. Writes are held to their origin instead. Only the owner's own browser says
// who else comes in. A page for a device that looks on leaves out what it may not press; that
// is for its user, and the refusal is in access.go. When a device is forgotten its sockets
// close with 1008, and what it asked for before is refused: each of its requests is a child of
// the device's own context, which Forget ends. It is looked at once the body has come, and by
// the committer right before the change.
//
// Pages have the referrer policy same-origin, all other replies none. On plain http browsers
// send no Sec-Fetch headers, and Chromium names no origin for a form on a page without
// referrers; the form would be taken for another site's.
//
// A paired device sees and changes every quilt, by decision: it is one of the house's, and its
// people go from quilt to quilt. For a class or a guest an offer may be for one quilt only
// (session.Rights): its pages, its ops, its history, to tick or to look. The column one of each
// route says how far it goes for such a device; a row that says nothing is closed. Whatever else
// it asks for is 404, with the same words whether there is such a thing or not. It puts nothing
// into the bin, and changes the plan of its quilt by an op only, for the form's addresses begin
// and change any. Its quilt's history names the devices that worked on it. With --open everyone
// sees all, paired or not. A program that is older than this knows nothing of it: it shows such a
// device every quilt, and writes its record without the limit, so that it is to be paired again.
//
// # Limits
//
// No device keeps the others from working. Each may have 64 connections, 16 live ones (of 256),
// and 200 changes at once with 20 a second after that, which is more than a page sends that
// comes back after an hour. Past its connections a device's new ones are closed, past the
// others it gets 429. The owner has no limits: who sits at the computer can stop the program
// anyway. The numbers are in crowd.go and server.go.
//
// Devices that came in share 256 connections, and strangers have 256 of their own, in which the
// newest takes the place of the one that was idle the longest. The address that a device came
// from last is taken for it for a day. Who is no paired device is counted by address; of IPv6
// the network of 64 bits has a wider bound, for a home is one, and so are all the addresses
// that a device may take: 128 connections, 64 live ones, 800 changes at once, 15 wrong guesses.
//
// A device has 16 requests under way (of 128), as a reply is in memory until it is read, and
// 300 reads at once with 30 a second after that. Strangers have 64 of their own; and 2 requests
// and 2 live connections each one has though the others hold all. A reply is in memory packed
// (packed.go), and an export or a history only in part. The state of a session is made once for
// all who read it at the same time (texts.go); pages and states are made on few desks, and
// sessions that are not in memory are read from the file for one device at a time (desks.go).
// What takes long to reckon, a plan above all, is reckoned before the commit, one for each
// device at a time and on half of the processors for all of them (lanes.go). A device imports 5
// sessions at once, and 1 a minute after that; one that pauses for 5 s gives up the place. A
// change of the plan is told and not kept for who comes back.
//
// A device may begin 24 sessions and add 16 MiB of records (session.Account), then it is asked
// about at the computer: 403, until the owner touches Allow more on the page of devices, which
// says what a device has added once that is more than half. A page keeps what waits, tries again
// and sends it then. With --open there are no devices to allow anything: each address has an
// account in memory, and each network of IPv6 a wider one, until the program starts again.
//
// Of each kind of refusal the log has a line at once and one a minute after that, with how many
// came since (tally.go).
//
// # https
//
// With --tls other devices must use https. It is no default, because a certificate that
// tablets take without a warning must be trusted by hand on each of them. The command's
// authority may sign for servers in .local, in home networks and at the addresses that the
// computer had when it was made, and for nothing else. One that an older program made may sign
// for mail and programs too; it stays, for devices trust it, and the log says what to do. The
// server's certificate is made in memory, for 90
// days, and anew when the addresses change.
//
// Both schemes share one port: split.go reads the first byte of a connection. By plain http
// another device gets the page about trust and what that page needs; this computer gets
// everything. There is no Strict-Transport-Security header, because a person who stops using
// --tls would be shut out. It is HTTP/1.1 only, because a websocket takes the whole connection.
//
// # Threats
//
// Each with what happens, and the tests that hold it.
//
// Who comes in:
//
//   - A device that is not paired opens a page, calls the API or joins live: 303 to /pair, 401,
//     401. TestTheDoorDoesWhatTheTablesSay, TestWhoMayComeIn, TestADevicePairsOnceAndStaysIn
//   - It says that it is localhost, or forwarded from there: the same, for only the
//     connection's own address counts. TestWhoMayComeIn
//   - An attacker's host name leads here (DNS rebinding): 421, before anything is read.
//     TestWhoMayComeIn, TestTheNameIsAnnounced, FuzzTheDoor
//   - A page of another site writes, pairs or joins live: 403, and no cookie is sent with it.
//     TestWritesFromOtherOrigins, TestPairingFromAnotherOrigin, TestLiveOnlyFromTheSameOrigin
//   - With --tls, a page of this host that came by plain http writes: 403.
//     TestWithTLSOthersComeByHTTPS
//   - --open: it skips pairing and nothing else, and warns in words. TestOpenAsksNoOneAndWarns
//   - An address is added and nobody says who may use it: a route can't be without.
//     TestTheTablesAreAllThatAnswers
//
// A device of one quilt:
//
//   - It asks for another quilt, for lists, the bin, the form, or what the owner may: 404, as of
//     what is not there, on every route. TestADeviceOfOneQuiltGetsThatAndNothingElse,
//     TestADeviceOfOneQuiltWorksOnItAndOnNoOther
//   - An address is added and nobody says what it is to such a device: closed, and the test
//     asks. TestADeviceOfOneQuiltGetsThatAndNothingElse
//   - It looks on and writes: 403 on its quilt, 404 elsewhere. TestADeviceOfOneQuiltMayLookOnly
//   - It is let in anew with other rights: these and no others, and what was open by the old ones
//     closes. TestADeviceOfOneQuiltIsLetInAnewForAllAndBack
//   - It holds on to what a browser kept of other quilts: that goes with the first page.
//     TestAColdStartOnTheOnlyQuilt
//   - A start, a backup or a restore forgets the limit: it is in the device's record.
//     TestAnOfferGivesItsRights
//   - A page shows it a way out, or a button that is dead: none does.
//     TestThePagesOfOneQuiltLeadNowhereElse, TestATabletOfOneQuilt
//   - Offers of many kinds make guesses hit: 16 stand at once. TestFewOffersStandAtOnce
//   - An older server gets the question of the command pair and would let in to all: its code is
//     not shown. TestTheCodeOfAnOlderServerIsNotShown
//
// Codes and secrets:
//
//   - Codes are guessed: 10 at once and 1 a minute from an address, 100 an hour in all, then
//     429, the right code included. TestGuessesAreLimited, TestWrongGuessesFromOneAddressAreFew,
//     TestWrongGuessesInAllAreAHundredAnHour
//   - Wrong guesses are sent to keep others out: a network of IPv6 leaves something to those
//     elsewhere, and QR codes work all the while. TestWrongGuessesOfANetworkAreBounded,
//     TestWrongGuessesInAllAreAHundredAnHour
//   - A code is seen over a shoulder, or found later in what the program printed: it is used up
//     by the first, or 10 minutes old, and the page of devices shows who came in.
//     TestDeviceIsLetInOnceByAnOffer, TestOneOfferLetsInOneOfMany, TestOfferEndsAfterTenMinutes
//   - The store or a backup is copied: it holds hashes of 130 random bits, and no code.
//     TestOnlyHashesAreOnTheDisk
//   - The log is read: it holds codes of errors and routes, and no ids, pairing codes, cookies
//     or words of anyone's. TestTheLogHoldsNoSecret, TestAFloodFillsNoLog
//   - A tablet is lost: Forget. Its sockets close and its requests are refused, also one whose
//     body comes later or that waits for the disk, and after a restart.
//     TestAForgottenDeviceIsOutAtOnce, TestABodyThatComesAfterItsDeviceWasForgotten,
//     TestALongReadEndsOnceItsDeviceIsForgotten,
//     TestWhatADeviceBeganBeforeItWasForgottenChangesNothing,
//     TestAChangeThatWaitsIsRefusedOnceItsDeviceIsForgotten,
//     TestForgottenDeviceIsOutAtOnceAndForGood, TestTabletsPairByPictureAndByCode
//   - Ids of sessions are guessed: they are 130 random bits, and nothing of one session is in
//     what another gives out. TestIDsCanNotBeGuessed, TestNothingOfOneSessionIsInAnother
//
// Those who are in:
//
//   - A device that looks on writes: 403 by HTTP, a nack by the websocket.
//     TestTheDoorDoesWhatTheTablesSay, TestADeviceThatLooksTicksNothing
//   - A paired device lets in others, or forgets them: 403. TestOnlyTheOwnerSaysWhoComesIn
//   - It stops the program, has it start with the computer, or takes all quilts along: 403.
//     TestTheDoorDoesWhatTheTablesSay
//   - A photo tells where it was taken: only its pixels are kept.
//     TestAPhotoThatIsKeptHasNoPlaceInIt
//   - A device of one quilt asks for photos: it gets the pictures that its quilt's plan names, and
//     404 for all others. TestADeviceOfOneQuiltGetsThatAndNothingElse
//   - Script stands in a title, a note or a name: html/template escapes it, the policy runs no
//     inline script, nosniff, no framing. TestPagesObeyTheirPolicy, TestWhoMayComeIn
//   - Another user of this computer: is the owner to the pages, by decision, for loopback is
//     all that tells the owner. No test. The port that a killed server left to the commands may
//     be taken: they prove by an HMAC that they have the word, ask for the same, and copy own
//     backups only. TestAStrangerAtTheLeftPortIsNotBelieved, TestOnlyAnOwnBackupIsCopied
//
// Too much:
//
//   - A body, header or message is too large: 413, 431, the socket closes; at most 64 KiB (16 MiB
//     for a device's import, 256 KiB for a form), 16 KiB, 64 KiB. Blanks count. TestABodyTooLargeIsToldSo,
//     TestHeadersAreLimited, TestRubbishIsAnsweredAndHarmsNoOne
//   - An op, an import or a form is longer, deeper or more than it may be, at any of its places:
//     a sentence, and no more memory than some sixty times what came. FuzzOpBySize,
//     FuzzImportBySize, FuzzFormBySize
//   - An op carries fields that its kind has no use for, or long ones: 422.
//     TestAnOpHasNoFieldsOfAnotherKind, TestWhatAnOpHoldsIsLimited
//   - The owner takes in a file that is huge, broken, or of another kind: a sentence, and what was
//     whole is kept. TestAFileThatHoldsNoQuiltsIsRefused, TestAFileOfQuiltsBreaksOff
//   - An import of millions of ops, or of endless ones: refused at the first fault; 20,000 ops, 30 s,
//     one import at a time. TestAnImportIsReadNoFurtherThanToItsFirstFault,
//     TestAnImportHasNoMoreOpsThanAnyTop
//   - Sessions, imports or long histories are to fill the disk, within the rate, by any way in and
//     many at once: 403 after 24 sessions or 16 MiB, over a restart too.
//     TestADeviceBeginsSoManyQuilts, TestADeviceAddsSoManyBytes,
//     TestADeviceThatAddsTooMuchIsAskedAtTheComputer, TestAnOpenServerAsksAtTheComputerToo,
//     TestANetworkAddsNoMoreThanFour, TestAddressesThatOnlyLookTakeNobodysAllowance
//   - That limit meets who only sews: a border is a hundredth of it at the most, and what was
//     ticked past it waits in the page. TestAQuiltIsFarBelowWhatADeviceMayAdd,
//     TestATickWaitsUntilTheComputerAllowsMore
//   - A device allows itself more: 403. TestADeviceThatAddsTooMuchIsAskedAtTheComputer
//   - Imports without end, or one that is sent in drops: 429, and its place goes to others.
//     TestImportsOfADeviceAreLimited, TestAnImportThatPausesGivesUpItsPlace
//   - A file is called a photo and is none, or is one of endless pixels: told from its first bytes,
//     and refused with a sentence; what a decoder stumbles on is a damaged photo (calc/photo).
//     TestWhatIsNoPhotoIsToldSo, FuzzRead
//   - Photos without end, or one that is sent in drops: two at a time of all devices, one of each
//     is looked at; each counts as what its device adds. TestPhotosOfDevicesWaitForEachOther,
//     TestAPhotoIsChargedToItsDevice
//   - Too many connections, live ones or changes: closed, 429, 429; the owner and the other
//     devices go on. TestConnectionsOfADeviceAreLimited, TestLiveConnectionsOfADeviceAreLimited,
//     TestChangesOfADeviceAreLimited, TestChangesOverTheLiveConnectionAreLimited,
//     TestDevicesKeepNoTabletOut
//   - Many requests at once, slow readers, or reads without end: 429.
//     TestRequestsOfADeviceAtOnceAreLimited, TestWhoHoldsAllRequestsKeepsNoDeviceOut,
//     TestReadsOfADeviceAreLimited,
//     TestAStateIsMadeOnceForAllWhoReadIt, TestASlowReaderHoldsLittle,
//     TestASlowListenerHoldsLittle
//   - All of this at once, from eight devices beside 56 that work: the owner is answered within
//     0.3 s, the program stays under 256 MiB, and nothing that was answered is lost.
//     TestDevicesAtTheirWorstDoNotHoldUpTheOwner
//   - Plans are changed without end, in many sessions: each device waits in its lane, ops of other
//     sessions do not wait, and what was told is let go. TestDevicesReckonInTurn,
//     TestWhatWasReckonedBeforeTheCommitIsTaken, TestASessionIsReadBeforeItsOpWaitsForTheCommitter,
//     TestAChangeOfThePlanIsNotKept, TestAWatchHoldsFewChangesOfThePlan
//   - A history is made long, so that opening its session takes long: it is opened at a bookmark.
//     TestALongHistoryGetsABookmark, TestASessionIsOpenedAtItsBookmark
//   - Pages are asked for that take long to make, on many lines, and nobody waits for them: each
//     is begun at a desk, and what nobody waits for is not gone on with.
//     TestADevicesPagesAreBegunAtADesk, TestDevicesHaveSessionsReadOneAtATime,
//     TestDevicesAtTheirWorstDoNotHoldUpTheOwner
//   - Strangers take all connections that they can get, from many addresses: those that are in
//     have others, and the next stranger takes the place of the idlest.
//     TestStrangersKeepNoTabletOut
//   - A device takes many addresses of its network: it has a bound too.
//     TestAnOpenServerCountsAddressesAndNetworks, TestChangesOfANetworkAreLimited
//   - A flood of refusals or broken handshakes is to fill the disk with log: a line a minute of
//     each kind. TestAFloodFillsNoLog
//   - Half a request that never ends, or a socket that never reads: closed after 5 s; dropped.
//     TestHeadersAreLimited, TestADeviceThatTakesNothingIsLetGo
//
// The network:
//
//   - Someone listens: by plain http they read all and can copy the cookie; --tls is sealed.
//     TestWithTLSOthersComeByHTTPS
//   - The authority's key is stolen: it can sign for home networks and this computer only, and
//     for servers only. TestTheAuthoritySpeaksForHomeOnly, TestTheAuthoritySpeaksForServersOnly,
//     TestAnOlderAuthorityStaysAndIsWide
//   - A stranger finds a printed page and reads its QR code: it is an address, with no secret in
//     it, and leads whoever is not let in to the pairing. TestCodesOnPaperOpenTheirSteps
//
// # The JSON API
//
// The routes are in routes.go. A refusal is {"error": {"code", "field", "message"}}, with missing
// (ticks) for not-yet and in-use, and with faults, all of them, beside a bad plan's first one.
// explain in errors.go has the codes. Of devices: only-looks and ask-at-computer are
// 403, too-fast and too-many-lines are 429.
//
//	POST /api/v1/offers     {"looks": bool}, and "session" with an id where it is for that one
//	                        only; the owner only: 201 with code, token, looks, session, until,
//	                        addresses; the command pair calls it
//	GET …/history           {"history": […]}
//	GET …/export            with ?photos=yes the photos of its fabrics too
//	POST …/photos           the picture, or a form with one: 201 {"id", "width", "height"}
//	GET …/photos/{id}       that picture, or a swatch's, as JPEG
//	GET …/photos/{id}/asked what a swatch was cut with: a photo's id, and what was asked of it
//	POST …/photos/{id}/flat {"sheet", "corners", "along", "unit", "repeats"}: what it tells of the
//	                        fabric (api_photo.go), and the id of the swatch that a plan may name
//	DELETE …/sessions/{id}  {"id", "binned"}
//	POST …/restore          {"id", "rev"}, as a new session and an import have it
//
// What a state, an op and a change hold is in the package docs of steps and calc.
//
// The websocket (live.go) outlives its request. Its first message is the whole state, or what the
// device has missed. Every device hears each op once, in order. A device that falls behind is let
// go, and reads the session afresh. A tick is on the last of a hundred devices after 3.3 ms, at
// the 95th percentile 7 ms; beside one that joins and leaves all the time, 6.4 and 20 ms
// (BenchmarkTickSeenBy100, two cores in use by others too).
//
// # When the network or the crowd is at fault
//
// Each fault with what happens, and the tests that bring it about, most of them with the program
// as built and real browsers. The package doc of static tells how the scripts do it, that of
// session what may go wrong with the store.
//
// The server:
//
//   - It is away: the page goes on, and ops wait, kept under a key each. TestAWholePlanByTouch
//   - It stays away: the page tries again after 0.3 s, doubled up to 10 s, half of it by chance.
//     TestThePageKnocksEverMoreSeldom
//   - Its data went back to an older copy: the page takes what is there now, also where the work
//     has come as far again. TestAPageGoesBackWithItsServer, TestASleeperWakesToAnotherPast,
//     TestRestoreBeginsAnotherEpoch
//   - A new version of the program: its scripts replace the old ones; a page kept before still
//     has its own. TestANewVersionReplacesTheOld
//   - SIGTERM while all work: each device is told 1012 and comes back by itself, and the program
//     is gone within 2 s. TestACrowdNoticesNothing, TestAStopSaysGoodbye
//
// The network:
//
//   - It swallows everything, and what is open looks open: a call is given up after 10 s with its
//     connection, a socket after 35 s of silence. TestADeadNetworkIsLeftBehind
//   - Another answers for the server: its answer counts as none.
//     TestAnAnswerFromAStrangerIsNoAck
//   - A cold start without the server: over https the kept page starts, as it was last heard; a
//     device that was put out keeps nothing. TestAColdStartWithoutTheServer,
//     TestAColdStartOverHTTPS
//   - A cold start in a network that answers nothing: the same, after 4 s.
//     TestAColdStartInASilentNetwork
//   - Plain http: there is no service worker. All else works, and a link that can't be followed
//     keeps one on the page. TestPlainHTTPGoesOnToo
//
// The device:
//
//   - The page ends, or the battery is empty: what waited is sent at the next start, once.
//     TestWhatWasDoneAwaySurvivesTheEndOfThePage
//   - What waited no longer fits: it is shown with the reason and kept until the person has
//     chosen to look, to send it again or to leave it out. TestWhatClashedIsShownWithAChoice
//   - The script comes late or never: the page's forms work, and one that marks a cut is asked
//     about once more. TestTicksWorkWithoutAScript, TestMeasuresAreKeptWithoutAScript,
//     TestACutIsAskedAgainWhereNoScriptHadItHeld
//   - The page is busy: a tap counts from when the finger went down, and a hold by frames.
//     TestADoubleTapOnABusyPageDoesOneThing, TestAShortTouchOnABusyPageIsNoHold
//   - Two tabs on one tablet: they share what waits and what was refused.
//     TestTwoTabsAreOneDevice
//   - The browser's storage is closed or full: the page goes on in memory, says so once something
//     waits, and asks before it is left. TestABrowserThatKeepsNothingIsToldOf
//   - Sleep, another page, no network for a while: a new socket at once, even where the old one
//     looks open. TestWakingReconnectsAtOnce, TestALineThatOnlyLooksOpenIsMadeAnew
//   - The session is in the bin, or the device was put out: the page says so, keeps what waits,
//     and stops trying until woken. TestAPageThatMayNotComeInStopsKnocking
//
// The crowd:
//
//   - A thousand devices, three hundred on one session; one never reads, one sends rubbish, one
//     breaks frames, one comes back all the time: the others hear every op, in order, once.
//     TestACrowdNoticesNothing
//   - A device takes nothing, or answers no ping: it is let go, and reads the session afresh when
//     it comes back. TestADeviceThatNeverReadsHoldsNoOneUp, TestADeviceThatTakesNothingIsLetGo,
//     TestADeviceThatAnswersNoPingIsLetGo
//   - Any bytes in a message: an ack or a sentence, and the socket stays. FuzzLiveMessage,
//     TestRubbishIsAnsweredAndHarmsNoOne
//
// # OWASP ASVS 4.0.3, level 1
//
// Done, beside the above: 2.2.1 (guesses), 2.3.1, 2.7.2 and 2.7.3 (codes: random, 10 minutes,
// once), 3.1.1 (no token in an address: that of a QR code is a fragment), 3.2.1 to 3.2.3 (130
// new bits at each pairing, in a cookie), 3.4.2, 3.4.3, 3.4.5 (HttpOnly, SameSite, a name of
// its own), with --tls 3.4.1 and 3.4.4 (Secure, __Host-), 4.1 and 4.2 (closed unless a table
// opens it, no forged requests), 7.1 and 7.4.1 (logs, a sentence for each error), 8.2.1 and
// 3.3.1 (no-store), 12.1.1, 12.3 (no file name from outside is used), 13.1 and 13.2 (JSON held
// to its fields), 14.3 to 14.5 (no versions, headers, methods).
//
// Not done, and why:
//
//   - 3.3.2, a new login after 30 days: a tablet at the sewing machine would have to be paired
//     in the middle of a seam. It is forgotten after 400 days away, and by hand at any time.
//   - 8.2.3, clear the screen of who was shut out: ops that wait there unsent would be lost.
//   - 9.1 and 3.4.1, TLS for all: only with --tls, for no certificate comes without trust by
//     hand.
//   - 14.4.2, replies as attachments: they are JSON under nosniff.
//   - 14.4.5, Strict-Transport-Security: see https above.
//
// Does not apply: passwords (2.1), other authenticators (2.8 and up), several factors for who
// sits at the computer (4.3.1), uploads that are served again (12.4, 12.5), requests to
// elsewhere (12.6: none are made), assets from elsewhere (14.2.3: none), payment and personal
// data (8.3: there is only what one types into titles and notes).
package web

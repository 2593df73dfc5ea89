package web

import (
	"context"
	stdlog "log"
	"log/slog"
	"strings"
	"sync"
	"time"
)

// tellEvery is how far apart lines of one kind are. Under a flood a dozen kinds of a hundred
// bytes or two come to 3 MB a day.
const tellEvery = time.Minute

// A tally logs what anybody may bring about as often as they like: of each kind the first at
// once, and then at most one line every tellEvery, which is the last that came and says how
// many came since. Kinds are few and named by the program. It is safe for concurrent use.
type tally struct {
	mu    sync.Mutex
	kinds map[string]*told
}

// A told kind has had its line lately.
type told struct {
	since int // the number that came after that
	tell  func(times int)
	next  *time.Timer
}

func newTally() *tally { return &tally{kinds: map[string]*told{}} }

func (t *tally) add(log *slog.Logger, kind string, level slog.Level, message string, args ...any) {
	tell := func(times int) {
		log.Log(context.Background(), level, message, append([]any{"times", times}, args...)...)
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if k := t.kinds[kind]; k != nil {
		k.since++
		k.tell = tell
		return
	}
	tell(1)
	t.kinds[kind] = &told{next: time.AfterFunc(tellEvery, func() { t.due(kind) })}
}

func (t *tally) due(kind string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	k := t.kinds[kind]
	switch {
	case k == nil:
	case k.since == 0:
		delete(t.kinds, kind)
	default:
		k.tell(k.since)
		k.since = 0
		k.next.Reset(tellEvery)
	}
}

// tellAll tells now what would be told later.
func (t *tally) tellAll() {
	t.mu.Lock()
	defer t.mu.Unlock()
	for kind, k := range t.kinds {
		k.next.Stop()
		if k.since > 0 {
			k.tell(k.since)
		}
		delete(t.kinds, kind)
	}
}

// maxLine is in bytes: what net/http says of a panic has its stack.
const maxLine = 4 << 10

// ErrorLog takes what net/http has to say. Its lines of a TLS handshake repeat what a stranger
// sent, and anyone may cause them: they are counted, and told without that.
func ErrorLog(log *slog.Logger) *stdlog.Logger { return stdlog.New(errorLog{newTally(), log}, "", 0) }

type errorLog struct {
	*tally
	log *slog.Logger
}

func (l errorLog) Write(line []byte) (int, error) {
	text := strings.TrimSpace(string(line[:min(len(line), maxLine)]))
	switch {
	case !strings.HasPrefix(text, "http: TLS handshake error"):
		l.add(l.log, "net/http", slog.LevelWarn, "net/http", "says", text)
	case strings.HasSuffix(text, "unknown certificate"), strings.HasSuffix(text, "unknown certificate authority"),
		strings.HasSuffix(text, "bad certificate"):
		l.add(l.log, "trust", slog.LevelWarn, "a device does not trust the authority for https; /trust tells how")
	default:
		l.add(l.log, "handshake", slog.LevelWarn, "what came by https was broken off or is no TLS that is spoken here")
	}
	return len(line), nil
}

// knownMethod is a method as the log has it: no words of a stranger's.
func knownMethod(method string) string {
	switch method {
	case "live", "GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS":
		return method
	}
	return "another"
}

package web

import (
	"net/http"
	"path/filepath"
	"time"

	"cornerwise/session"
)

// A BackupReply is what a server that runs says of the backup that it made.
type BackupReply struct {
	Path string    `json:"path"`
	Made time.Time `json:"made"`
}

// A CheckReply is what a server that runs says of its store.
type CheckReply struct {
	Report session.Report `json:"report"`
	Fault  string         `json:"fault,omitempty"` // "" when the store is sound
}

// Local is what the commands on this computer ask a server that runs. It has no
// door: listen for it only where nobody but the owner gets.
func (s *Server) Local() http.Handler { return s.local() }

func (s *Server) backUp(w http.ResponseWriter, r *http.Request) {
	b, err := s.Store.BackUp(r.Context())
	if err != nil {
		s.refuseLocal(w, err)
		return
	}
	s.Log.Info("backup", "file", filepath.Base(b.Path), "why", "asked for")
	reply(w, http.StatusOK, BackupReply{b.Path, b.Made})
}

func (s *Server) check(w http.ResponseWriter, r *http.Request) {
	report, err := s.Store.Check(r.Context())
	if err != nil && len(report.Faults) == 0 {
		s.refuseLocal(w, err)
		return
	}
	found := CheckReply{Report: report}
	if err != nil {
		found.Fault = err.Error()
		s.Log.Error("check", "err", err)
	}
	reply(w, http.StatusOK, found)
}

func (s *Server) refuseLocal(w http.ResponseWriter, err error) {
	s.Log.Error("a command was refused", "err", err)
	reply(w, http.StatusServiceUnavailable, problemReply{explain(err)})
}

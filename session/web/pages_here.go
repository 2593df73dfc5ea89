package web

import (
	"net/http"
	"strings"
	"sync"
)

// An AtLogin has the program start with this computer, or not.
type AtLogin struct {
	// State tells whether it does, whether that can be had here, and both in words.
	State func() (on, can bool, words string)
	// Set has it so. An error is a whole sentence.
	Set func(on bool) error

	setting sync.Mutex // one at a time: a double click is two requests
}

// A hereView is what the owner says of the program on this computer.
type hereView struct {
	AtLogin bool // there is a switch
	On, Can bool
	Words   string
	Stops   bool // it can be stopped from here
}

// Sentence is a site that says one thing, in the look of the others.
func Sentence(said string) http.Handler {
	static := (&Server{}).Handler()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(r.URL.Path, "/static/") {
			static.ServeHTTP(w, r)
			return
		}
		secure(w.Header(), r, false)
		wordsOnly(w, http.StatusServiceUnavailable, wordsView{Sentence: said})
	})
}

func (s *Server) here() (v hereView) {
	if v.AtLogin = s.AtLogin != nil; v.AtLogin {
		v.On, v.Can, v.Words = s.AtLogin.State()
	}
	v.Stops = s.Quit != nil
	return v
}

func (s *Server) setAtLogin(w http.ResponseWriter, r *http.Request) {
	if !s.readValues(w, r) {
		return
	}
	on := r.PostForm.Get("on")
	if s.AtLogin == nil || on != "true" && on != "false" {
		s.unknownPath(w, r)
		return
	}
	s.AtLogin.setting.Lock()
	err := s.AtLogin.Set(on == "true")
	s.AtLogin.setting.Unlock()
	if err != nil {
		err = &problem{status: http.StatusConflict, Code: "not-here", Message: err.Error()}
	}
	s.toDevices(w, r, err)
}

// quit stops the program, once it has said so.
func (s *Server) quit(w http.ResponseWriter, r *http.Request) {
	if s.Quit == nil {
		s.unknownPath(w, r)
		return
	}
	wordsOnly(w, http.StatusOK, wordsView{Sentence: "Cornerwise is stopped. All that was ticked is kept. " +
		"What a tablet ticks from now on is sent when Cornerwise is opened again."})
	s.Quit()
}

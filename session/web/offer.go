package web

import (
	"encoding/json"
	"net/http"
	"time"

	"cornerwise/session"
)

// An OfferRequest asks how the next device comes in.
type OfferRequest struct {
	Looks   bool   `json:"looks"`             // it may look, and not tick
	Session string `json:"session,omitempty"` // the id of the one that it sees; "" for all
}

// An OfferReply is what lets in one device.
type OfferReply struct {
	Code      string    `json:"code"` // 8 digits
	Token     string    `json:"token"`
	Looks     bool      `json:"looks"`
	Session   string    `json:"session,omitempty"`
	Until     time.Time `json:"until"`
	Addresses []string  `json:"addresses"` // by which it comes, best first
}

func NewOfferReply(o session.Offer, addresses []string) OfferReply {
	return OfferReply{Code: o.Code, Token: o.Token, Looks: o.Looks, Session: o.Only,
		Until: o.Until.UTC().Truncate(time.Second), Addresses: addresses}
}

// offer is for programs on this computer: the command pair.
func (s *Server) offer(w http.ResponseWriter, r *http.Request) {
	data, err := readJSON(r, bodyLimit)
	var asked OfferRequest
	if err == nil && json.Unmarshal(data, &asked) != nil {
		err = &problem{status: http.StatusUnprocessableEntity, Code: "bad-offer", Field: "looks",
			Message: "This asks for a code with {\"looks\": true} or {\"looks\": false}, and " +
				"\"session\" beside it with an id, where it is for that one only."}
	}
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	o, _, err := s.offerFor(session.Rights{Looks: asked.Looks, Only: asked.Session})
	s.replyOrRefuse(w, r, http.StatusCreated, NewOfferReply(o, s.Addresses()), err)
}

// offerFor is an offer with these rights, and the head of the one session that it is for.
func (s *Server) offerFor(may session.Rights) (o session.Offer, one session.Head, err error) {
	if may.Only != "" {
		if one, err = s.Store.Head(may.Only); err == nil && !one.Binned.IsZero() {
			err = session.ErrBinned
		}
		if err != nil {
			return o, one, err
		}
	}
	return s.Devices.Offer(may), one, nil
}

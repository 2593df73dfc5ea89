package web

import (
	"encoding/json"
	"net/http"
	"time"

	"cornerwise/session"
)

// An OfferRequest asks how the next device comes in.
type OfferRequest struct {
	Looks bool `json:"looks"` // it may look, and not tick
}

// An OfferReply is what lets in one device.
type OfferReply struct {
	Code      string    `json:"code"` // 8 digits
	Token     string    `json:"token"`
	Looks     bool      `json:"looks"`
	Until     time.Time `json:"until"`
	Addresses []string  `json:"addresses"` // by which it comes, best first
}

func NewOfferReply(o session.Offer, addresses []string) OfferReply {
	return OfferReply{Code: o.Code, Token: o.Token, Looks: o.Looks,
		Until: o.Until.UTC().Truncate(time.Second), Addresses: addresses}
}

// offer is for programs on this computer: the command pair.
func (s *Server) offer(w http.ResponseWriter, r *http.Request) {
	data, err := readJSON(r, bodyLimit)
	var asked OfferRequest
	if err == nil && json.Unmarshal(data, &asked) != nil {
		err = &problem{status: http.StatusUnprocessableEntity, Code: "bad-offer", Field: "looks",
			Message: "This asks for a code with {\"looks\": true} or {\"looks\": false}."}
	}
	s.replyOrRefuse(w, r, http.StatusCreated, NewOfferReply(s.Devices.Offer(asked.Looks), s.Addresses()), err)
}

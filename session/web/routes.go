package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
)

// A route is one thing that the server answers to.
type route struct {
	method, path string
	who          access
	handle       http.HandlerFunc
}

const (
	get  = http.MethodGet
	post = http.MethodPost
	del  = http.MethodDelete

	// v1 is where programs call; everything else is for people.
	v1       = "/api/v1"
	livePath = v1 + "/sessions/{id}/live"
)

// pageRoutes are what people look at, and the forms on it.
func (s *Server) pageRoutes() []route {
	return []route{
		{get, "/", paired, s.homePage},
		{post, "/demo", paired, s.makeDemo},
		{get, "/pair", unpaired, s.pairPage},
		{post, "/pair", unpaired, s.pair},
		{get, "/trust", everyone, s.trustPage},
		{get, "/authority.crt", everyone, s.authority},

		{get, "/devices", owner, s.devicesPage},
		{post, "/devices/forget", owner, s.forgetDevices},
		{post, "/devices/{device}/forget", owner, s.forgetDevice},

		{get, "/new", paired, s.newPage},
		{post, "/new", paired, s.makePlan},
		{post, "/new/edit", paired, s.editPlan},
		{post, "/new/preview", paired, s.previewPlan},

		{get, "/s/{id}", paired, s.sessionPage},
		{get, "/s/{id}/stage/{stage}", paired, s.sessionPage},
		{get, "/s/{id}/step/{step}", paired, s.sessionPage},
		{get, "/s/{id}/{step}", paired, s.oldStepPage},
		{post, "/s/{id}/do", paired, s.doPage},
		{get, "/s/{id}/drawings", paired, s.drawings},
		{get, "/s/{id}/sheet", paired, s.sheetPage},
		{get, "/s/{id}/cutting", paired, s.cuttingPage},
		{get, "/s/{id}/shopping", paired, s.shoppingPage},
		{get, "/s/{id}/shopping.txt", paired, s.shoppingText},
		{get, "/s/{id}/plan", paired, s.planPage},
		{get, "/s/{id}/keep", paired, s.keepPage},
		{get, "/s/{id}/wrong", paired, s.wrongsPage},
		{get, "/s/{id}/wrong/{wrong}", paired, s.wrongPage},
		{get, "/s/{id}/found/{of}", paired, s.foundPage},
		{post, "/s/{id}/mend", paired, s.mendPage},
		{post, "/s/{id}/bin", paired, s.binPage},
		{post, "/s/{id}/restore", paired, s.restorePage},
	}
}

// apiRoutes are what programs call, the page's own scripts among them.
func (s *Server) apiRoutes() []route {
	return []route{
		{get, "/healthz", everyone, s.health},
		{post, v1 + "/sessions", paired, s.create},
		{get, v1 + "/sessions", paired, s.list},
		{get, v1 + "/sessions/{id}", paired, s.get},
		{del, v1 + "/sessions/{id}", paired, s.bin},
		{post, v1 + "/sessions/{id}/restore", paired, s.restore},
		{post, v1 + "/sessions/{id}/ops", paired, s.do},
		{get, livePath, paired, s.live},
		{get, v1 + "/sessions/{id}/history", paired, s.history},
		{get, v1 + "/sessions/{id}/export", paired, s.export},
		{post, v1 + "/import", paired, s.importSession},
		{post, v1 + "/offers", owner, s.offer},
	}
}

// staticRoutes are files that are the same for everyone.
func (s *Server) staticRoutes() []route {
	return []route{
		{get, "/static/{name}", everyone, s.asset},
		{get, "/worker.js", paired, s.worker},
	}
}

// localRoutes are what the commands on this computer ask. They are served by a listener
// of their own, which lets in nobody but the owner (Local).
func (s *Server) localRoutes() []route {
	return []route{
		{post, "/backup", owner, s.backUp},
		{get, "/check", owner, s.check},
	}
}

// compressed are the kinds worth it; the font and the pictures are small already.
var compressed = []string{
	"application/json", "image/svg+xml", "text/css", "text/html", "text/javascript",
}

// routes answers to the tables of pages, API and static files, and to nothing else.
func (s *Server) routes() chi.Router {
	r := chi.NewRouter()
	r.Use(s.catchBugs, s.door, middleware.GetHead)
	r.NotFound(s.admit(paired, s.unknownPath))
	r.MethodNotAllowed(s.admit(paired, s.unknownMethod))
	compress := middleware.Compress(6, compressed...)
	for _, table := range [][]route{s.pageRoutes(), s.apiRoutes(), s.staticRoutes()} {
		for _, x := range table {
			var h http.Handler = s.admit(x.who, x.handle)
			if x.path != livePath { // a websocket needs the bare connection
				h = compress(h)
			}
			r.Method(x.method, x.path, h)
		}
	}
	return r
}

// local answers to the table of the commands.
func (s *Server) local() chi.Router {
	r := chi.NewRouter()
	r.Use(s.catchBugs)
	for _, x := range s.localRoutes() {
		r.Method(x.method, x.path, x.handle)
	}
	return r
}

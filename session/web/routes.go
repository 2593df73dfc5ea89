package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"
)

// A route is one thing that the server answers to.
type route struct {
	method, path string
	who          access
	one          scope // for a device of one quilt, of those that may
	handle       http.HandlerFunc
}

// bare routes reply as they go: a websocket, and what is written in pieces.
func (x route) bare() bool {
	return x.path == livePath || x.path == exportPath || x.path == historyPath || x.path == alongPath
}

const (
	get  = http.MethodGet
	post = http.MethodPost
	del  = http.MethodDelete

	// v1 is where programs call; everything else is for people.
	v1       = "/api/v1"
	livePath = v1 + "/sessions/{id}/live"

	exportPath  = v1 + "/sessions/{id}/export"
	historyPath = v1 + "/sessions/{id}/history"
	alongPath   = "/along/quilts"
	photosPath  = v1 + "/photos"
)

// pageRoutes are what people look at, and the forms on it.
func (s *Server) pageRoutes() []route {
	return []route{
		{get, "/", paired, leads, s.seated(s.homePage)},
		{post, "/demo", paired, closed, s.makeDemo},
		{get, "/settings", paired, open, s.settingsPage},
		{get, "/terms", paired, open, s.termsPage},
		{get, "/pair", unpaired, open, s.pairPage},
		{post, "/pair", unpaired, open, s.pair},
		{get, "/trust", everyone, open, s.trustPage},
		{get, "/authority.crt", everyone, open, s.authority},

		{get, "/devices", owner, closed, s.devicesPage},
		{get, "/along", owner, closed, s.alongPage},
		{post, "/along", owner, closed, s.takeIn},
		{get, alongPath, owner, closed, s.takeAlong},

		{post, "/devices/at-login", owner, closed, s.setAtLogin},
		{post, "/devices/stop", owner, closed, s.quit},
		{post, "/devices/forget", owner, closed, s.forgetDevices},
		{post, "/devices/{device}/forget", owner, closed, s.forgetDevice},
		{post, "/devices/{device}/allow", owner, closed, s.allowDevice},

		{get, "/new", paired, closed, s.newPage},
		{post, "/new", paired, closed, s.makePlan},
		{post, "/new/edit", paired, closed, s.editPlan},
		{post, "/new/preview", paired, closed, s.previewPlan},
		{get, "/photo", paired, closed, s.photoPage},
		{post, "/photo", paired, closed, s.sendPhoto},
		{get, "/photo/{photo}", paired, closed, s.touchPage},
		{post, "/photo/{photo}", paired, closed, s.cutPhoto},

		{get, "/s/{id}", paired, own, s.seated(s.sessionPage)},
		{get, "/s/{id}/stage/{stage}", paired, own, s.seated(s.sessionPage)},
		{get, "/s/{id}/step/{step}", paired, own, s.seated(s.sessionPage)},
		{get, "/s/{id}/{step}", paired, own, s.seated(s.oldStepPage)},
		{post, "/s/{id}/do", paired, own, s.doPage},
		{get, "/s/{id}/drawings", paired, own, s.seated(s.drawings)},
		{get, "/s/{id}/face.svg", paired, own, s.face},
		{get, "/s/{id}/{photo:[0-9a-f-]{32,}}.jpg", paired, own, s.quiltFabric},
		{get, "/s/{id}/return", paired, own, s.seated(s.returnPage)},
		{get, "/s/{id}/sheet", paired, own, s.seated(s.sheetPage)},
		{get, "/s/{id}/paper", paired, own, s.seated(s.paperPage)},
		{get, "/s/{id}/cutting", paired, own, s.cuttingPage},
		{get, "/s/{id}/shopping", paired, own, s.seated(s.shoppingPage)},
		{get, "/s/{id}/shopping.txt", paired, own, s.seated(s.shoppingText)},
		{get, "/s/{id}/plan", paired, own, s.planPage},
		{get, "/s/{id}/keep", paired, own, s.seated(s.keepPage)},
		{get, "/s/{id}/settings", paired, own, s.seated(s.settingsPage)},
		{get, "/s/{id}/wrong", paired, own, s.seated(s.wrongsPage)},
		{get, "/s/{id}/wrong/{wrong}", paired, own, s.seated(s.wrongPage)},
		{get, "/s/{id}/found/{of}", paired, own, s.seated(s.foundPage)},
		{post, "/s/{id}/mend", paired, own, s.mendPage},
		{post, "/s/{id}/bin", paired, closed, s.binPage},
		{post, "/s/{id}/restore", paired, closed, s.restorePage},
	}
}

// apiRoutes are what programs call, the page's own scripts among them.
func (s *Server) apiRoutes() []route {
	return []route{
		{get, "/healthz", everyone, open, s.health},
		{post, v1 + "/sessions", paired, closed, s.create},
		{get, v1 + "/sessions", paired, closed, s.list},
		{get, v1 + "/sessions/{id}", paired, own, s.seated(s.get)},
		{del, v1 + "/sessions/{id}", paired, closed, s.bin},
		{post, v1 + "/sessions/{id}/restore", paired, closed, s.restore},
		{post, v1 + "/sessions/{id}/ops", paired, own, s.do},
		{get, livePath, paired, own, s.live},
		{get, historyPath, paired, own, s.history},
		{get, exportPath, paired, own, s.export},
		{post, v1 + "/import", paired, closed, s.importSession},
		{post, photosPath, paired, closed, s.takePhoto},
		{get, photosPath + "/{photo}", paired, closed, s.photoFile},
		{post, photosPath + "/{photo}/flat", paired, closed, s.flatPhoto},
		{get, photosPath + "/{photo}/asked", paired, closed, s.swatchAsked},
		{post, v1 + "/offers", owner, closed, s.offer},
	}
}

// staticRoutes are files that are the same for everyone.
func (s *Server) staticRoutes() []route {
	return []route{
		{get, "/static/{name}", everyone, open, s.asset},
		{get, "/worker.js", paired, open, s.worker},
	}
}

// localRoutes are what the commands on this computer ask. They are served by a listener
// of their own, which lets in nobody but the owner (Local).
func (s *Server) localRoutes() []route {
	return []route{
		{post, "/backup", owner, closed, s.backUp},
		{get, "/check", owner, closed, s.check},
	}
}

// routes answers to the tables of pages, API and static files, and to nothing else.
func (s *Server) routes() chi.Router {
	r := chi.NewRouter()
	r.Use(s.catchBugs, s.door, headAsGet)
	r.NotFound(s.admit(paired, closed, s.unknownPath))
	r.MethodNotAllowed(s.admit(paired, closed, s.unknownMethod))
	for _, table := range [][]route{s.pageRoutes(), s.apiRoutes(), s.staticRoutes()} {
		for _, x := range table {
			var h http.Handler = s.admit(x.who, x.one, x.handle)
			if !x.bare() {
				h = packed(h)
			}
			r.Method(x.method, x.path, h)
		}
	}
	return r
}

// headAsGet has HEAD answered by the route of GET; net/http leaves the body out. The router's own
// middleware for it would bring a profiler into the program.
func headAsGet(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodHead {
			chi.RouteContext(r.Context()).RouteMethod = http.MethodGet
		}
		next.ServeHTTP(w, r)
	})
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

'use strict';
// The live line to the server, which tells what every device does. On tablets a
// socket dies without a word, so silence counts as dead.
const silence = 35000;
const lasted = 5000; // a line that held this long was a good one
let line = null;
let quiet = 0;
let knock = 0;
let knocks = 0; // in vain, since the last good line
let liveSince = 0;

function liveAddress() {
  return '/api/v1/sessions/' + session + '/live?since=' + work.rev + '&past=' + past;
}

function connect() {
  clearTimeout(knock);
  hangUp();
  const scheme = location.protocol === 'https:' ? 'wss://' : 'ws://';
  const mine = line = new WebSocket(scheme + location.host + liveAddress());
  listenFor(5000);
  mine.onmessage = function (e) {
    if (mine !== line) { return; }
    listenFor(silence);
    const said = JSON.parse(e.data);
    if (!sync.live) {
      sync.live = true;
      liveSince = Date.now();
      paintSync();
      drain();
      drawAgain();
    }
    if (said.state) {
      if (said.rev !== work.rev || (said.past || '') !== past) {
        // The server went back, to a copy of its data from before.
        work.rev = Math.min(work.rev, said.rev);
        refresh();
      }
    } else if (said.op) {
      if (said.rev > work.rev + 1) { connect(); } else { hear(said); }
    }
  };
  mine.onclose = function (e) {
    if (mine !== line) { return; }
    lost();
    if (e.code === 1008) { turnedAway(); } else { askWhy(); }
  };
}

function turnedAway() {
  clearTimeout(knock);
  shutOut();
}

function listenFor(ms) {
  clearTimeout(quiet);
  quiet = setTimeout(lost, ms);
}

function hangUp() {
  clearTimeout(quiet);
  if (!line) { return; }
  const old = line;
  line = null;
  old.close();
}

function lost() {
  hangUp();
  if (sync.live && Date.now() - liveSince > lasted) { knocks = 0; }
  sync.live = false;
  paintSync();
  clearTimeout(knock);
  if (shut) { return; }
  knock = setTimeout(connect, pause(knocks++));
  if (knocks % 4 === 3) { askWhy(); }
}

// askWhy asks what a websocket does not tell: whether this device may come in.
function askWhy() {
  ask(liveAddress(), {}, saidOf).then(function (res) {
    if (barred(res)) { clearTimeout(knock); }
  }, function () { /* away */ });
}

// wake is coming back from sleep, from another page, to the network. The line may
// look open and be dead: it is made anew.
function wake() {
  if (document.visibilityState === 'hidden') { return; }
  knocks = 0;
  tries = 0;
  shut = false;
  connect();
  drain();
}

function catchUp() { if (line && sync.live) { connect(); } }

// refresh takes the page anew when its steps or numbers are others now.
let refreshing = false;
let refreshes = 0; // in vain
function refresh() {
  if (refreshing) { return; }
  refreshing = true;
  ask(base, {}, textOf).then(function (text) {
    const page = new DOMParser().parseFromString(text, 'text/html');
    // Another page is a stranger's, or that of a door that is shut by now; an older
    // one was made before what this page has heard.
    if (page.body.dataset.id !== session || Number(page.body.dataset.rev) < work.rev) {
      throw new Error('not it');
    }
    refreshing = false;
    refreshes = 0;
    const at = view.tick && view.tick.id;
    const focused = document.activeElement && document.activeElement.id;
    el('main').innerHTML = page.getElementById('main').innerHTML;
    readPage(page);
    remember();
    if (view.kind === 'step') {
      const following = view.following;
      if (byTick[at]) { look(byTick[at]); } else { follow(); }
      view.following = view.following || following;
    }
    barKey = '';
    fitsOf = {};
    fitted = '';
    bringHalves();
    again();
    drawAnew();
    if (focused && el(focused)) { el(focused).focus(); }
  }).catch(function () {
    refreshing = false;
    setTimeout(refresh, pause(refreshes++));
  });
}

function textOf(res) {
  if (!res.ok) { throw new Error(res.status); }
  return res.text();
}

'use strict';
// The live line to the server, which tells what every device does. On tablets a
// socket dies without a word, so silence counts as dead.
const silence = 35000;
let line = null;
let quiet = 0;
let knock = 0;
let knocks = 0;

function connect() {
  clearTimeout(knock);
  hangUp();
  const scheme = location.protocol === 'https:' ? 'wss://' : 'ws://';
  const mine = line = new WebSocket(scheme + location.host + '/api/v1/sessions/' + session + '/live?since=' + work.rev);
  listenFor(5000);
  mine.onmessage = function (e) {
    if (mine !== line) { return; }
    listenFor(silence);
    knocks = 0;
    const said = JSON.parse(e.data);
    if (!sync.live) {
      sync.live = true;
      paintSync();
      drain();
      if (missingPictures) { drawAll(); }
    }
    if (said.state) {
      if (said.rev !== work.rev) { refresh(); }
    } else if (said.op) {
      if (said.rev > work.rev + 1) { connect(); } else { hear(said); }
    }
  };
  mine.onclose = function (e) {
    if (mine !== line) { return; }
    lost();
    if (e.code === 1008) { turnedAway(); } else { ask(); }
  };
}

// ask finds out whether the line is gone or this device was forgotten: a socket
// that is refused does not say why.
function ask() {
  fetch('/api/v1/sessions?limit=1', { credentials: 'same-origin' }).then(function (res) {
    if (res.status === 401) { turnedAway(); }
  }).catch(function () { /* the network, then */ });
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
  sync.live = false;
  paintSync();
  const wait = Math.min(10000, 300 * Math.pow(2, knocks++));
  clearTimeout(knock);
  knock = setTimeout(connect, wait * (0.5 + Math.random()));
}

// wake is coming back from sleep, from another page, to the network.
function wake() {
  if (document.visibilityState === 'hidden') { return; }
  knocks = 0;
  tries = 0;
  connect();
  drain();
}

function catchUp() { if (line && sync.live) { connect(); } }

// refresh takes the page anew when its steps or numbers are others now.
let refreshing = false;
function refresh() {
  if (refreshing) { return; }
  refreshing = true;
  fetch(base, { credentials: 'same-origin' }).then(function (res) {
    if (!res.ok) { throw new Error(res.status); }
    return res.text();
  }).then(function (text) {
    refreshing = false;
    const page = new DOMParser().parseFromString(text, 'text/html');
    if (Number(page.body.dataset.rev) < work.rev) { refresh(); return; }
    const at = place.tick && place.tick.id;
    const focused = document.activeElement && document.activeElement.id;
    el('main').innerHTML = page.getElementById('main').innerHTML;
    readPage(page);
    if (place.view === 'step') {
      const following = place.following;
      if (byTick[at]) { look(byTick[at]); } else { follow(); }
      place.following = place.following || following;
    }
    barKey = '';
    again();
    drawAll();
    if (focused && el(focused)) { el(focused).focus(); }
  }).catch(function () {
    refreshing = false;
    setTimeout(refresh, 2000);
  });
}

// The drawings of the steps that are not shown come after the page.
let missingPictures = true;
function drawAll() {
  fetch(base + '/drawings', { credentials: 'same-origin' }).then(function (res) { return res.text(); }).then(function (text) {
    missingPictures = false;
    all('[data-of]', new DOMParser().parseFromString(text, 'text/html')).forEach(function (d) {
      d.dataset.of.split(' ').forEach(function (id) {
        const pic = id === 'end' ? el('p-end') : byTick[id] && byTick[id].box.querySelector('.pic');
        if (pic && !pic.firstElementChild) { pic.innerHTML = d.innerHTML; }
      });
    });
    fit();
  }).catch(function () { missingPictures = true; });
}

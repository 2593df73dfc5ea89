'use strict';
// What lets a page start without the server: this worker keeps the session pages
// that were visited, their drawings, and the styles and scripts that they name. It
// runs where the browser allows it, over https or on this computer itself.
// The server writes `assets` before it: the addresses, with their hashes, of all
// styles and scripts of this version.
const assetCache = 'cornerwise-assets';
const pageCache = 'cornerwise-pages';
const maxPages = 80; // 20 sessions with all their pages
const patience = 4000; // ms, before what is kept stands in for a network that is silent

self.addEventListener('install', function (e) {
  e.waitUntil(install().then(function () { return self.skipWaiting(); }));
});
self.addEventListener('activate', function (e) {
  e.waitUntil(prune().then(function () { return self.clients.claim(); }));
});

// install takes all of a version or nothing.
async function install() {
  const cache = await caches.open(assetCache);
  const here = await cache.keys();
  const known = here.map(function (r) { return addressOf(new URL(r.url)); });
  await cache.addAll(assets.filter(function (a) { return known.indexOf(a) < 0; }));
}

function addressOf(url) { return url.pathname + url.search; }

// prune lets go of older styles and scripts, but of none that a kept page names: it
// was made by the version before, and starts with what it was made for.
async function prune() {
  const pages = await caches.open(pageCache);
  let named = assets;
  for (const key of await pages.keys()) {
    const text = await (await pages.match(key)).text();
    named = named.concat(text.match(/\/static\/[^"]+/g) || []);
  }
  const cache = await caches.open(assetCache);
  for (const key of await cache.keys()) {
    if (named.indexOf(addressOf(new URL(key.url))) < 0) { await cache.delete(key); }
  }
}

self.addEventListener('fetch', function (e) {
  const url = new URL(e.request.url);
  if (e.request.method !== 'GET' || url.origin !== self.location.origin) { return; }
  if (url.pathname.slice(-4) === '.mp4') { return; } // its ranges are the server's
  if (url.pathname.indexOf('/static/') === 0 && url.search) {
    e.respondWith(asset(e.request));
  } else if (pageOf(url.pathname)) {
    e.respondWith(fromNetwork(e, url));
  }
});

// pageOf is under which address a page is kept; '' when it never is, as whatever
// programs ask for, pairing, and forms. A session's steps are all in its one page.
function pageOf(path) {
  const parts = path.split('/'); // '', 's', id, below
  if (path === '/') { return path; }
  if (parts[1] !== 's' || !parts[2]) { return ''; }
  const session = '/s/' + parts[2];
  if (parts.length === 4 && parts[3].indexOf('.') >= 0) { return ''; }
  const pages = ['drawings', 'sheet', 'cutting', 'shopping', 'paper'];
  return parts.length === 4 && pages.indexOf(parts[3]) >= 0 ? session + '/' + parts[3] : session;
}

async function asset(request) {
  const cache = await caches.open(assetCache);
  const here = await cache.match(request);
  if (here) { return here; }
  const res = await fetch(request);
  if (res.ok) { await cache.put(request, res.clone()); }
  return res;
}

// fromNetwork asks the server first. What is kept stands in where a page is opened
// and the server is away; a page that asks for news of itself gets none instead.
async function fromNetwork(e, url) {
  const page = pageOf(url.pathname);
  const asked = fetch(e.request).then(function (res) {
    const copy = res.clone();
    e.waitUntil(note(url, page, copy));
    return res;
  });
  if (e.request.mode !== 'navigate' && page.slice(-9) !== '/drawings') { return asked; }
  const silent = new Promise(function (ok) { setTimeout(ok, patience, null); });
  const res = await Promise.race([asked, silent]).catch(function () { return null; });
  return res || (await (await caches.open(pageCache)).match(page)) || asked;
}

// keepOnly lets go of what is kept of other quilts than the one that this device sees, and
// leads there from the first page.
async function keepOnly(quilt) {
  const pages = await caches.open(pageCache);
  for (const key of await pages.keys()) {
    if ((new URL(key.url).pathname + '/').indexOf(quilt + '/') !== 0) { await pages.delete(key); }
  }
  await pages.put('/', Response.redirect(quilt));
}

// note keeps a page, or lets go of what may not be kept any more.
async function note(url, page, res) {
  if (res.type === 'opaqueredirect' && page === '/') {
    // It leads a device of one quilt to that, and one that was put out to where it pairs.
    const end = new URL((await fetch(page, { credentials: 'same-origin' })).url).pathname;
    if (end.indexOf('/s/') === 0) {
      await keepOnly(end);
      return;
    }
  }
  if (res.type === 'opaqueredirect' && url.pathname !== page) {
    // It leads to the session's page, from an old address of a step, or a device that
    // was put out to where it pairs. A worker can't see which: the page itself tells.
    res = await fetch(page, { credentials: 'same-origin', redirect: 'manual' });
    url = new URL(page, url);
  }
  if (res.type === 'opaqueredirect' || res.status === 401 || res.status === 403) {
    await caches.delete(pageCache); // this device was put out
    return;
  }
  const pages = await caches.open(pageCache);
  if (res.status === 404 && url.pathname === page) {
    for (const key of await pages.keys()) {
      if (new URL(key.url).pathname.indexOf(page) === 0) { await pages.delete(key); }
    }
  }
  const kind = res.headers.get('Content-Type') || '';
  if (!res.ok || res.redirected || kind.indexOf('text/html') !== 0) {
    return;
  }
  const below = page.split('/');
  if (below.length === 3) {
    // Not every address below a session is its page.
    const text = await res.clone().text();
    if (text.indexOf('<body class="session" data-id="' + below[2] + '"') < 0) { return; }
  } else if (url.search) {
    return; // the same page with a question in it
  }
  await pages.put(page, res);
  const keys = await pages.keys(); // oldest first
  for (const key of keys.slice(0, Math.max(0, keys.length - maxPages))) {
    await pages.delete(key);
  }
}

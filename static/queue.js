'use strict';
// What was done here and is not yet on the server's disk. It is written to the
// browser's own storage before anything else happens, and sent in order, one at a
// time, until the server has an answer to it. The same op twice does no harm.
const keyOf = 'op:' + session + ':';
const waiting = keptOps();
let unsure = null; // the op that is under way
let tries = 0;
let retry = 0;
let shut = false; // the server lets this device in no more

function keptOps() {
  const found = [];
  try {
    for (let i = 0; i < localStorage.length; i++) {
      const key = localStorage.key(i);
      if (key.indexOf(keyOf) === 0) { found.push({ key: key, op: JSON.parse(localStorage.getItem(key)) }); }
    }
  } catch (e) { warn('This browser keeps nothing. What is done while away is lost if the page is closed.'); }
  return found.sort(function (a, b) { return a.key < b.key ? -1 : 1; });
}

let counter = 0;
function send(op) {
  if (document.body.dataset.looks !== undefined) {
    warn('This device was let in to look. To tick on it, pair it again at the computer.');
    return '';
  }
  op.op = newID();
  counter++;
  const row = { key: keyOf + Date.now() + ':' + (10000 + counter), op: op };
  waiting.push(row);
  try { localStorage.setItem(row.key, JSON.stringify(op)); } catch (e) { /* in memory, then; said above */ }
  again();
  drain();
  return op.op;
}

function forget(row) {
  waiting.splice(waiting.indexOf(row), 1);
  try { localStorage.removeItem(row.key); } catch (e) { /* nothing was kept */ }
}

function drain() {
  if (unsure || shut || !waiting.length) { return; }
  clearTimeout(retry);
  const row = unsure = waiting[0];
  post(row.op).then(function (res) {
    unsure = null;
    tries = 0;
    if (res.ok) {
      forget(row);
      confirm(row.op);
    } else if (res.status === 401 || res.status === 403 || res.status === 421) {
      shutOut();
    } else if (res.status >= 500 || res.status === 429 || res.status === 408) {
      later();
      return;
    } else {
      forget(row);
      refused(row.op, res.error || { message: 'That was not taken.' });
    }
    again();
    drain();
  }, function () {
    unsure = null;
    later();
    again();
  });
}

// shutOut is for a device that was forgotten; what waits is sent once it is let in.
function shutOut() {
  if (shut) { return; }
  shut = true;
  warn('This device may not come in any more. What waits here is kept: open the first page and type the code that the computer shows.');
}

// later tries again: 0.3 s, doubled, at most 10 s, half of it by chance.
function later() {
  const wait = Math.min(10000, 300 * Math.pow(2, tries++));
  clearTimeout(retry);
  retry = setTimeout(drain, wait * (0.5 + Math.random()));
}

function post(op) {
  const call = fetch('/api/v1/sessions/' + session + '/ops', {
    method: 'POST', credentials: 'same-origin',
    headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(op)
  }).then(function (res) {
    return res.json().catch(function () { return {}; }).then(function (said) {
      return { ok: res.ok, status: res.status, error: said.error };
    });
  });
  // A network that swallows everything would hold the queue for ever.
  return Promise.race([call, new Promise(function (ok, no) { setTimeout(no, 10000); })]);
}

// withdraw takes an op back that has not left; false when it may have.
function withdraw(id) {
  const row = waiting.find(function (r) { return r.op.op === id; });
  if (!row || row === unsure) { return false; }
  forget(row);
  again();
  return true;
}

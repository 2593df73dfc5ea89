'use strict';
// What was done here and is not yet on the server's disk. It is written to the
// browser's own storage before anything else happens, and sent in order, one at a
// time, until the server has an answer to it. The same op twice does no harm.
const keyOf = 'op:' + session + ':';
const waiting = stored(keyOf).map(function (row) {
  return { key: row.key, op: row.value, stored: true };
});
let unsure = null; // the row that is under way
let tries = 0;
let retry = 0;
let waitsFor = ''; // what was said that people have to do, since something was taken
let shut = false; // the server lets this device in no more, or has no such session

function send(op) {
  if (document.body.dataset.looks !== undefined) {
    warn('This device was let in to look. To tick on it, pair it again at the computer.');
    return '';
  }
  op.op = newID();
  const row = { key: newKey(keyOf), op: op };
  row.stored = store(row.key, op);
  waiting.push(row);
  overtake(op);
  again(paintAct);
  // The rest is done once that is on the screen; a page that is not drawn does it too.
  const rest = function () { paintRest(); drain(); };
  const late = setTimeout(rest, 200);
  requestAnimationFrame(function () {
    clearTimeout(late);
    setTimeout(rest);
  });
  return op.op;
}

function forget(row) {
  const at = waiting.indexOf(row);
  if (at >= 0) { waiting.splice(at, 1); }
  unstore(row.key);
}

function drain() {
  if (unsure || shut || !waiting.length) { return; }
  clearTimeout(retry);
  const row = unsure = waiting[0];
  post(row.op).then(function (res) {
    unsure = null;
    const on = answered(row, res);
    again();
    if (on) { drain(); }
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
  warn('This device may not come in any more. What waits here is kept: ' +
    'open the first page and type the code that the computer shows.');
}

// answered settles a row by what the server said; true when the next may go. An answer
// without a revision or a reason is not the server's: on strange networks others answer
// for it.
function answered(row, res) {
  const error = res.said.error || {};
  const ours = res.ok ? typeof res.said.rev === 'number' : error.code;
  if (ours && res.ok) {
    tries = 0;
    waitsFor = '';
    forget(row);
    confirm(row.op);
    return true;
  }
  const people = ['disk-full', 'ask-at-computer'].indexOf(error.code) >= 0;
  if (!ours || people || [408, 429, 503].indexOf(res.status) >= 0 ||
    (res.status >= 500 && tries < 4)) {
    if (people && waitsFor !== error.message) {
      waitsFor = error.message;
      warn(waitsFor + ' It waits here, and is sent again by itself.');
    }
    later();
    return false;
  }
  if (barred(res)) { return false; } // what waits is kept
  tries = 0;
  const at = waiting.indexOf(row);
  if (at >= 0) { waiting.splice(at, 1); }
  // Another tab may have settled it: what it was told shows here too, or was chosen on.
  if (at >= 0 && !settledElsewhere(row)) {
    refuse(row, res.status, error);
    unstore(row.key); // only now: it is kept as refused
  }
  return true;
}

// settledElsewhere tells an op that this tab kept and another has taken away.
function settledElsewhere(row) {
  try { return row.stored && localStorage.getItem(row.key) === null; } catch (e) { return false; }
}

// barred is that the server won't have this device, or has no such session: nothing
// is sent, and nobody knocks, until the device wakes or the page is opened anew.
function barred(res) {
  const error = res.said.error || {};
  if (!error.code || [401, 403, 404, 421].indexOf(res.status) < 0) { return false; }
  if (error.code === 'only-looks') { return false; } // it may come in, and its op is refused
  if (res.status === 404) {
    shut = true;
    warn(error.message + (waiting.length ? ' What waits here is kept.' : ''));
  } else {
    shutOut();
  }
  return true;
}

// pause is how long to wait after so many tries in vain: 0.3 s, doubled, at most
// 10 s, and half of that more or less by chance, so that devices which fell out
// together don't come back together.
function pause(inVain) {
  return Math.min(10000, 300 * (1 << Math.min(inVain, 6))) * (0.5 + Math.random());
}

function later() {
  clearTimeout(retry);
  retry = setTimeout(drain, pause(tries++));
  if (waiting.some(function (row) { return !row.stored; })) {
    warn('This browser keeps nothing: its storage is closed or full. ' +
      'Leave this page open until all is sent.');
  }
}

function post(op) {
  return ask('/api/v1/sessions/' + session + '/ops', {
    method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(op)
  }, saidOf);
}

// ask calls the server and gives up after 10 s: a network that swallows everything
// would hold the call for ever. Where the browser can, its connection is dropped too,
// for it has only a few, and a dead one would be used again.
function ask(address, options, read) {
  const stop = window.AbortController ? new AbortController() : null;
  options.credentials = 'same-origin';
  if (stop) { options.signal = stop.signal; }
  return Promise.race([fetch(address, options).then(read), new Promise(function (ok, no) {
    setTimeout(function () {
      no(new Error('no answer'));
      if (stop) { stop.abort(); }
    }, 10000);
  })]);
}

// saidOf is an answer with what it says; {} where that is no JSON.
function saidOf(res) {
  return res.json().catch(function () { return null; }).then(function (said) {
    return { ok: res.ok, status: res.status, said: said || {} };
  });
}

// withdraw takes an op back that has not left; false when it may have.
function withdraw(id) {
  const row = waiting.find(function (r) { return r.op.op === id; });
  if (!row || row === unsure) { return false; }
  forget(row);
  again();
  return true;
}

// What another tab has settled is settled here; the live line tells how.
window.addEventListener('storage', function (e) {
  if (!e.key || e.newValue !== null) { return; }
  const row = waiting.find(function (r) { return r.key === e.key && r !== unsure; });
  if (row) {
    waiting.splice(waiting.indexOf(row), 1);
    again();
  }
});

// Most browsers ask before they throw away what is only in memory.
window.addEventListener('beforeunload', function (e) {
  if (waiting.some(function (row) { return !row.stored; })) {
    e.preventDefault();
    e.returnValue = '';
  }
});

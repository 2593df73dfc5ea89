'use strict';
// A start without the server: a worker keeps the page, where the browser has one,
// and this is what the page itself has to remember of the work since it was made.
const workOf = 'work:' + session;
let remembering = 0;

function hasWorker() { return 'serviceWorker' in navigator && window.isSecureContext; }

// remember writes down the work as the server has it.
function remember() {
  clearTimeout(remembering);
  remembering = 0;
  if (!hasWorker()) { return; }
  const last = work.last && { op: work.last.op, text: work.last.text, at: work.last.at };
  store(workOf, {
    past: past, rev: work.rev, here: work.here, last: last,
    done: work.done, later: work.later, values: work.values, notes: work.notes
  });
}

function rememberSoon() {
  if (!remembering) { remembering = setTimeout(remember, 200); }
}

// recall takes up what was remembered, when the page is the older of the two.
function recall() {
  const row = hasWorker() && stored(workOf)[0];
  if (!row || row.value.past !== past || row.value.rev <= work.rev || !byStep[row.value.here]) {
    return;
  }
  delete row.value.past;
  Object.assign(work, row.value);
}

function startOffline() {
  if (!hasWorker()) { return; }
  window.addEventListener('pagehide', function () { if (remembering) { remember(); } });
  // A worker that takes over has not seen this page: it is asked for once more.
  navigator.serviceWorker.addEventListener('controllerchange', function () {
    setTimeout(function () {
      fetch(base, { credentials: 'same-origin' }).catch(function () { /* next time, then */ });
      if (!restDue) { drawRest(); }
    }, restAfter);
  });
  navigator.serviceWorker.register('/worker.js').catch(function () {
    // The page works while it is open.
  });
}

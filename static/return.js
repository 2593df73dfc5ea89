'use strict';
// Who comes back to a quilt after more than ten minutes finds a card over the step: the last
// acts, what comes next, and how the machine was set. The step stays behind it as it was.
const seenKey = 'seen:' + session; // when this device last had the quilt in sight
const awayFor = 600000;
let seenAt = 0;

function readSeen() {
  try { return Number(localStorage.getItem(seenKey)) || 0; } catch (e) { return 0; }
}

// inSightAgain is called again and again while the page is in sight: a long time between two
// calls was an absence, or a sleep.
function inSightAgain() {
  if (document.visibilityState === 'hidden') { return; }
  const before = Math.max(seenAt, readSeen());
  seenAt = Date.now();
  store(seenKey, seenAt);
  if (seenAt - before > awayFor) { askCard(before, lastStamp, 5); }
}

// askCard asks for the card. A device that wakes may have no network for some seconds; and who
// does something meanwhile needs no card.
function askCard(before, stamp, tries) {
  ask(base + '/return', {}, textOf).then(function (text) {
    if (lastStamp === stamp) { showCard(text, before); }
  }, function () {
    if (tries) { setTimeout(askCard, 2000, before, stamp, tries - 1); }
  });
}

function showCard(text, before) {
  const box = new DOMParser().parseFromString(text, 'text/html').getElementById('return');
  if (!box || box.dataset.of !== session || !wanted(box, before)) { return; }
  const old = el('return'), from = document.activeElement;
  if (old) { document.body.removeChild(old); }
  document.body.appendChild(box);
  release();
  dialogOf(box, function () {
    rest(); // the second tap of two is none on the wide button
    return from !== document.body && document.body.contains(from) ? from : el('main');
  }).open(box.querySelector('button'));
}

// wanted: something was done, and is not all done, and nothing else is open. A device that never
// had this quilt in sight is told of it where the last act is long ago.
function wanted(box, before) {
  return !allDone(shown) && document.body.dataset.looks === undefined &&
    ticks.some(function (t) { return shown.done[t.id]; }) &&
    !document.querySelector('.dialog:not([hidden])') &&
    (before || Date.now() - Date.parse(box.dataset.last) > awayFor);
}

document.addEventListener('visibilitychange', inSightAgain);
window.addEventListener('pageshow', inSightAgain);
window.addEventListener('pagehide', inSightAgain);
setInterval(inSightAgain, 15000);
inSightAgain();

'use strict';
// Work undone in fabric: what was done since and needs it is told, and opens again too.
let redoing = null; // the tick
let redoDialog = null;

function askRedo(t, users) {
  redoing = t;
  write(el('redo-what'), t.label + ' · ' + t.step.title + '. Done since, and needing it: ' +
    users.slice(0, 3).map(function (u) { return lower(u.label); }).join('; ') +
    (users.length > 3 ? '; and ' + (users.length - 3) + ' more.' : '.'));
  el('redo-why').value = '';
  redoDialog.open(el('redo-title'));
}

function startRedo() {
  redoDialog = dialogOf(el('redo'), function () { return el('goon'); });
  el('redo').addEventListener('click', function (e) {
    if (e.target.dataset.why) { el('redo-why').value = e.target.dataset.why; }
    if (e.target.id !== 'redo-yes') { return; }
    view.following = true;
    send({ kind: 'redo', tick: redoing.id, why: el('redo-why').value });
    announce('Open again: ' + redoing.title);
    redoDialog.close();
  });
}

'use strict';
// What needs a reason: the trim of a corner that was seen not to be right, and what is put off.
let withReason = null; // called with the reason
let reasonDialog = null;

function askReason(title, what, yes, then, chips) {
  withReason = then;
  write(el('reason-title'), title);
  write(el('reason-what'), what);
  write(el('reason-yes'), yes);
  el('reason-text').value = '';
  el('reason').querySelector('.chips').hidden = !chips;
  reasonDialog.open(el('reason-title'));
}

function startReason() {
  el('reason').addEventListener('click', function (e) {
    if (e.target.dataset.why) { el('reason-text').value = e.target.dataset.why; }
  });
  reasonDialog = dialogOf(el('reason'), function () { return el('do'); });
  el('reason-yes').addEventListener('click', function () {
    const text = el('reason-text').value.trim();
    if (!text) {
      el('reason-text').focus();
      return;
    }
    reasonDialog.close();
    withReason(text);
  });
}

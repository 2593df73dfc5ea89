'use strict';
// What needs a reason: the trim of a corner that was seen not to be right.
let withReason = null; // called with the reason
let reasonDialog = null;

function askReason(title, what, yes, then) {
  withReason = then;
  write(el('reason-title'), title);
  write(el('reason-what'), what);
  write(el('reason-yes'), yes);
  el('reason-text').value = '';
  reasonDialog.open(el('reason-title'));
}

function startReason() {
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

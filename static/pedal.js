'use strict';
// What a key is taken for. Page-turner pedals and clickers are keyboards of two keys or three:
// the pairs are what they send.
const pedalKeys = {
  ArrowLeft: 'back', ArrowUp: 'back', PageUp: 'back',
  ArrowRight: 'forward', ArrowDown: 'forward', PageDown: 'forward',
  ' ': 'tick', Enter: 'tick'
};

// takenFor is back, forward or tick; '' for any other key, or one held with another.
function takenFor(e) {
  return e.ctrlKey || e.altKey || e.metaKey || e.shiftKey ? '' : pedalKeys[e.key] || '';
}

// byTab: the focus is where the Tab key brought it, and not where a touch left it. A pedal
// sends Space and Enter as a keyboard does. One who came to a link or button by Tab means that
// one. A finger leaves the focus on whatever it touched last, and nobody sees it there: the
// next pedal press would do that again, and not what the wide button says.
let byTab = false;
document.addEventListener('keydown', function (e) { byTab = byTab || e.key === 'Tab'; }, true);
['touchstart', 'mousedown'].forEach(function (kind) {
  document.addEventListener(kind, function () { byTab = false; }, true);
});

// fieldAt is whether keys go to a field. One that is not in sight gets none.
function fieldAt(target) {
  return !!target.closest('input, textarea, select') && target.getClientRects().length > 0;
}

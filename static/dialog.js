'use strict';
// A dialog lies over the page and has the focus until it closes: Tab goes round in it,
// Escape, its cancel button or a tap beside it leaves it. (Browsers have <dialog> since
// iOS 15.4; older tablets have not.)

// dialogOf makes a dialog of a box; back gives the element that has the focus after it.
function dialogOf(box, back) {
  const close = function () {
    box.hidden = true;
    back().focus({ preventScroll: true });
  };
  box.addEventListener('click', function (e) {
    if (e.target === box || e.target.hasAttribute('data-cancel')) { close(); }
  });
  box.addEventListener('keydown', function (e) {
    if (e.key === 'Escape') { close(); }
    if (e.key !== 'Tab') { return; }
    const stops = all('button, input', box).filter(function (s) {
      return s.getClientRects().length && !s.disabled;
    });
    const at = stops.indexOf(document.activeElement); // -1: the title
    if (e.shiftKey ? at <= 0 : at === stops.length - 1) {
      e.preventDefault();
      stops[e.shiftKey ? stops.length - 1 : 0].focus();
    }
  });
  return {
    close: close,
    open: function (first) {
      box.hidden = false;
      first.focus({ preventScroll: true });
    }
  };
}

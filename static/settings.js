'use strict';
// The page of settings: what a pressed key or pedal is taken for.
(function () {
  const words = { back: 'back', forward: 'forward', tick: 'tick' };

  document.addEventListener('keydown', function (e) {
    if (e.repeat || e.ctrlKey || e.altKey || e.metaKey || e.key === 'Tab' || e.key === 'Shift') {
      return;
    }
    const what = takenFor(e);
    // One who comes to a button by Tab presses that.
    if (what === 'tick' && byTab && e.target.closest('a, button')) { return; }
    if (what) { e.preventDefault(); }
    document.getElementById('trial').textContent = 'That was: ' +
      (words[what] || e.key + ', which does nothing here') + '.';
  });
}());

'use strict';
// A cut needs a hold of a second on its button, by finger or by Enter or Space
// on the focused button. Let go early, and nothing happened.
const holdFor = 1000;
let holding = 0;
let held = 0;
let frameAt = 0;

function press(e) {
  const t = view.tick;
  if (!t || !t.cuts || el('tick').hidden || holding || !rested()) { return; }
  if (e.button) { return; }
  el('do').classList.add('held');
  held = 0;
  frameAt = performance.now();
  holding = requestAnimationFrame(holdOn);
}

// holdOn counts the time that the finger was down, of each frame 0.1 s at most: while the page
// was busy nobody knows whether it still was.
function holdOn(now) {
  held += Math.min(now - frameAt, 100);
  frameAt = now;
  if (held < holdFor) {
    holding = requestAnimationFrame(holdOn);
    return;
  }
  release();
  doTick();
}

function release() {
  if (!holding) { return; }
  cancelAnimationFrame(holding);
  holding = 0;
  el('do').classList.remove('held');
}

function letGo() {
  if (!holding) { return; }
  release();
  const hold = el('do').querySelector('.hold');
  hold.classList.add('early');
  announce('Let go early: nothing is marked. Hold for a second.');
  setTimeout(function () { hold.classList.remove('early'); }, 1500);
}

function startHold() {
  const b = el('do');
  b.addEventListener('touchstart', function (e) {
    if (view.tick.cuts) { e.preventDefault(); }
    press(e);
  }, { passive: false });
  b.addEventListener('touchmove', function (e) {
    if (!isOn(b, e.touches[0])) { letGo(); }
  });
  ['touchend', 'touchcancel', 'mouseup', 'mouseleave', 'blur', 'keyup'].forEach(function (end) {
    b.addEventListener(end, letGo);
  });
  b.addEventListener('mousedown', press);
  b.addEventListener('keydown', function (e) {
    if (!view.tick.cuts || (e.key !== 'Enter' && e.key !== ' ')) { return; }
    e.preventDefault();
    if (!e.repeat) { press(e); }
  });
  b.addEventListener('contextmenu', function (e) { e.preventDefault(); });
  document.addEventListener('visibilitychange', letGo);
}

'use strict';
// One finger, or the mouse, from where it comes down to where it lets go. Touches and not pointers:
// older tablets have no others.
function dragOn(node, on) {
  let held = null; // the touch that is followed

  function at(e) { return { x: e.clientX, y: e.clientY }; }
  function mine(list) {
    return Array.from(list).filter(function (t) { return t.identifier === held; })[0];
  }
  node.addEventListener('touchstart', function (e) {
    if (held !== null || on.off && on.off(e)) { return; }
    e.preventDefault(); // no scrolling, and no mouse made up of it
    held = e.changedTouches[0].identifier;
    on.start(at(e.changedTouches[0]), true);
  }, { passive: false });
  node.addEventListener('touchmove', function (e) {
    const t = mine(e.changedTouches);
    if (!t) { return; }
    e.preventDefault();
    on.move(at(t));
  }, { passive: false });
  ['touchend', 'touchcancel'].forEach(function (name) {
    node.addEventListener(name, function (e) {
      if (!mine(e.changedTouches)) { return; }
      held = null;
      on.end(name === 'touchcancel');
    });
  });
  node.addEventListener('mousedown', function (e) {
    if (e.button !== 0 || on.off && on.off(e)) { return; }
    e.preventDefault();
    function move(m) { on.move(at(m)); }
    function up() {
      document.removeEventListener('mousemove', move);
      document.removeEventListener('mouseup', up);
      on.end(false);
    }
    document.addEventListener('mousemove', move);
    document.addEventListener('mouseup', up);
    on.start(at(e), false);
  });
}

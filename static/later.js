'use strict';
// What is put off, with the reason, until it is done or taken up again.
function paintLater() {
  if (view.kind !== 'step') { return; }
  const box = view.tick.step.box, b = box.querySelector('.later'), p = box.querySelector('.put');
  const why = shown.later[view.tick.id];
  b.hidden = !!view.group || shown.done[view.tick.id];
  write(b, why ? 'Take it up' : 'Put off');
  p.hidden = !why;
  write(p, why ? 'Put off: ' + why : '');
  box.querySelector('.choose').hidden = !all('.choose button:not([hidden])', box).length;
}

function startLater() {
  el('main').addEventListener('click', function (e) {
    if (!e.target.classList.contains('later')) { return; }
    const t = view.tick;
    if (shown.later[t.id]) {
      send({ kind: 'later', tick: t.id });
      announce('Taken up again: ' + lower(t.title));
      return;
    }
    askReason('Put it off?', t.title + '. It comes back before this stage is left.', 'Put it off',
      function (text) {
        view.following = true;
        send({ kind: 'later', tick: t.id, why: text });
        announceNext('Put off');
      }, true);
  });
}

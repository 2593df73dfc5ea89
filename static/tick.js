'use strict';
// The wide button: what it is now, and what a tap on it does.
let barKey = '';
let seenFrom = 0; // when the button came to be seen as it is; 0: with the page
let actedAt = 0; // when the finger, mouse or key of the last act went down

function paintBar() {
  const t = view.kind === 'step' ? view.tick : null;
  const mode = t ? modeOf(shown, t) : 'list';
  el('tick').hidden = mode !== 'tick';
  el('hereon').hidden = mode !== 'hereon';
  el('locked').hidden = mode !== 'locked';
  el('isdone').hidden = mode !== 'done';
  el('towork').hidden = mode !== 'list';
  write(el('towork').firstElementChild, byStep[shown.here].title);
  const shows = view.group ? view.group.ticks : [t];
  const at = t ? ticks.indexOf(t) : -1;
  const beyond = ticks.indexOf(shows[shows.length - 1]) + 1;
  paintNeighbor(el('back'), ticks[at - 1]);
  paintNeighbor(el('ahead'), t ? ticks[beyond] : null);

  const key = mode + (view.group ? view.group.id : t ? t.id : '');
  if (key !== barKey) {
    if (barKey) { rest(); }
    barKey = key;
    release();
    if (mode === 'tick') { dressButton(t); }
  }
  if (mode === 'locked') { dressLock(lockOf(shown, t)); }
}

// paintNeighbor leads to the tick before or after.
function paintNeighbor(a, t) {
  a.hidden = !t;
  if (t) {
    a.href = stepPath(t.step) + '?tick=' + t.id;
    a.dataset.tick = t.id;
  }
}

function dressButton(t) {
  const b = el('do');
  const hold = b.querySelector('.hold');
  b.className = t.cuts ? 'cut' : '';
  write(b.querySelector('.label'), (view.group || t).label);
  hold.textContent = '';
  hold.classList.remove('early');
  if (!t.cuts) { return; }
  const number = t.box.querySelector('.num .vh');
  write(hold, 'hold to cut ' + (number ? number.textContent : ''));
}

function dressLock(need) {
  const span = el('locked').querySelector('span');
  let a = span.querySelector('a');
  if (a && a.dataset.tick === need.id) { return; }
  span.textContent = 'Not yet: first ';
  a = add(span, 'a', lower(need.title));
  a.href = stepPath(need.step) + '?tick=' + need.id;
  a.dataset.tick = need.id;
  if (need.step !== view.tick.step) {
    span.appendChild(document.createTextNode(' (' + need.step.title.split(',')[0] + ')'));
  }
}

function rest() {
  seenFrom = Infinity;
  requestAnimationFrame(function (now) { seenFrom = now; });
}

// rested tells an act on the button as it is. The second tap of a double tap meant the button
// as it was, however late a busy page comes to it: what counts is when the finger went down.
function rested() { return actedAt >= seenFrom + 350; }

// The mouse of a touch comes after it, if it does: not after a hold. What no finger, mouse or
// key began, as a screen reader's act, has the time of its click. Old browsers have another
// clock for events.
let touching = false;
function acted(e) {
  const touch = e.type === 'touchstart';
  if (touch || e.type === 'keydown' || !touching && (e.type !== 'click' || !e.detail)) {
    actedAt = Math.min(e.timeStamp || Infinity, performance.now());
  }
  touching = touch || touching && e.type === 'mousedown';
}

['touchstart', 'mousedown', 'keydown', 'click'].forEach(function (kind) {
  document.addEventListener(kind, acted, true);
});

function doTick() {
  const t = view.tick, group = view.group;
  const op = { kind: 'tick', done: true };
  if (group) {
    op.ticks = group.ticks.map(function (u) { return u.id; });
  } else {
    op.tick = t.id;
  }
  // A cut is made by the number that was seen.
  if (t.box.dataset.number) { op.number = t.box.dataset.number; }
  send(op);
  announceNext((group || t).label);
}

// announceNext says what was done, and what comes next.
function announceNext(did) {
  announce(did + '. ' + (view.kind === 'end' ? 'Pressed and done.' :
    'Next: ' + view.tick.title + '. ' + view.tick.step.title));
}

function onSubmit(id, act) {
  el(id).addEventListener('submit', function (e) {
    e.preventDefault();
    if (id === 'undo' || rested()) { act(); }
  });
}

function startTick() {
  // A finger's release is its click: the browser's own comes after a mouse of its making. Where the
  // finger has slid off there is none.
  const b = el('do');
  b.addEventListener('touchend', function (e) {
    if (b.className === 'cut' || !e.cancelable) { return; }
    e.preventDefault();
    if (isOn(b, e.changedTouches[0])) {
      if (document.activeElement !== b) { b.focus({ preventScroll: true }); }
      b.click();
    }
  });
  onSubmit('tick', function () {
    if (!view.tick.cuts) { doTick(); }
  });
  onSubmit('hereon', function () {
    view.following = true;
    send({ kind: 'here', step: view.tick.step.id });
    announce('Work goes on here.');
  });
  onSubmit('undo', function () {
    const last = shown.last;
    if (!last) { return; }
    view.following = view.kind === 'step';
    if (!withdraw(last.op)) { send({ kind: 'undo', of: last.op }); }
    announce('Undone: ' + last.text);
  });
  onSubmit('isdone', function () {
    const users = usersOf(shown, view.tick);
    if (users.length) {
      askRedo(view.tick, users);
    } else {
      send({ kind: 'tick', tick: view.tick.id, done: false });
    }
  });
  el('warned').addEventListener('click', function (e) {
    if (e.target.tagName !== 'BUTTON') { return; }
    all('p', el('warned')).forEach(function (p) { p.parentNode.removeChild(p); });
    el('warned').hidden = true;
  });
}

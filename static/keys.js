'use strict';
// Keys and pedals at a session: back and forward look round, which changes nothing, and tick
// does what the wide button says. Never a cut, and never a look: a foot does not see.
let keyWord = null; // what a key was answered, until the next act
let keyWordAt = null; // the tick at which it was

function startKeys() {
  keyWord = add(document.body, 'p', '');
  keyWord.className = 'keyword';
  keyWord.hidden = true;
  document.addEventListener('keydown', keyDown, true);
  document.addEventListener('keyup', function (e) {
    // Some browsers press a button when Space comes up.
    if (takenFor(e) === 'tick' && !keyIsElsewhere('tick', e.target)) { e.preventDefault(); }
  }, true);
  document.addEventListener('painted', function () {
    if (view.tick !== keyWordAt) { hushKeys(); }
  });
  // A finger leaves the focus on an answer or in a field, where the next key would choose
  // another answer, or type.
  document.addEventListener('click', function (e) {
    hushKeys();
    if (!byTab && e.target.type === 'radio') { e.target.blur(); }
  });
  new MutationObserver(function () {
    if (!byTab && el('pad').hidden) { document.activeElement.blur(); }
  }).observe(el('pad'), { attributes: true, attributeFilter: ['hidden'] });
}

// keyDown comes before the page's own keys: on a button that a touch has left the focus on, a
// pedal that is kept down would begin the hold of a cut.
function keyDown(e) {
  const what = takenFor(e);
  if (!what || !setting('keys')) { return; }
  if (keyIsElsewhere(what, e.target)) {
    // Kept down, Enter would press a button again and again.
    if (e.repeat && what === 'tick' && e.target.closest('button')) { e.preventDefault(); }
    return;
  }
  e.preventDefault();
  e.stopPropagation();
  if (e.repeat) { return; }
  hushKeys();
  if (what === 'tick') {
    tickByKey();
  } else {
    goByKey(what);
  }
}

// keyIsElsewhere: it belongs to a field, an answer, a dialog, or to what Tab was pressed to.
function keyIsElsewhere(what, target) {
  if (fieldAt(target) || document.querySelector('.dialog:not([hidden])')) { return true; }
  return byTab && !!target.closest(what === 'tick' ? 'a, button, summary' : '.over');
}

function goByKey(what) {
  const a = el(what === 'back' ? 'back' : 'ahead');
  if (!a.hidden) {
    goTick(byTick[a.dataset.tick]);
  } else if (view.kind === 'step') {
    tellKey(what === 'back' ? 'This is the first step.' : 'This is the last step.');
  }
}

function tickByKey() {
  const t = view.kind === 'step' ? view.tick : null;
  const mode = t ? modeOf(shown, t) : view.kind;
  if (document.body.dataset.looks !== undefined) {
    tellKey('This device looks on.');
  } else if (mode === 'locked') {
    tellKey(el('locked').textContent.trim() + '.');
  } else if (mode === 'tick' && t.cuts) {
    tellKey('A cut needs your hand: hold the button on the screen.');
  } else if (mode === 'tick' && isLook(t)) {
    tellKey('A look needs your hand: look closely, then touch the button.');
  } else if (mode === 'tick' || mode === 'hereon') {
    all('details[open]').forEach(function (d) { d.open = false; });
    el(mode).dispatchEvent(new Event('submit', { cancelable: true }));
  } else if (mode !== 'end' && rested()) {
    goWork();
  }
}

// isLook is a tick that says what was seen. The procedure calls these so, and no others.
function isLook(t) { return /\.looked$/.test(t.id); }

function tellKey(text) {
  announce(text);
  write(keyWord, text);
  keyWordAt = view.tick;
  keyWord.hidden = false;
}

function hushKeys() { keyWord.hidden = true; }

startKeys();

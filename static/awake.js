'use strict';
// The screen is kept on while a session is in sight and not at its end: by the browser's wake
// lock, which only sealed pages and this computer's own have, else by a film. Browsers keep the
// screen on for a film that plays, is seen, has sound (this one's is silence), is not muted and
// does not loop; so it is wound back before its end. Both may want a touch first. The mark says
// "Screen stays on" once the lock is granted or the film plays, and not before.
const awake = { lock: null, film: null, plays: false, asking: false, cannot: false, mark: null };

function startAwake() {
  const mark = document.createElement('p');
  mark.className = 'awake';
  mark.innerHTML = '<svg class="m" viewBox="0 0 32 32" aria-hidden="true">' +
    '<path class="m-line"/></svg><span><span class="vh">Screen </span><span></span></span>';
  awake.mark = mark;
  el('sync').parentNode.insertBefore(mark, el('sync'));
  document.addEventListener('set', function () {
    awake.cannot = false;
    stayAwake();
  });
  document.addEventListener('visibilitychange', stayAwake);
  document.addEventListener('painted', stayAwake);
  window.addEventListener('pagehide', letSleep);
  document.addEventListener('click', stayAwake); // a touch: some browsers want one first
  stayAwake();
}

function wantsAwake() {
  return setting('awake') && !document.hidden && !allDone(shown);
}

// isAwake asks no film whether it is paused: one that could not be played says that it is not.
function isAwake() { return !!awake.lock || awake.plays; }

function stayAwake() {
  if (!wantsAwake()) {
    letSleep();
  } else if (!isAwake() && !awake.asking && !awake.cannot) {
    awake.asking = true;
    askLock().catch(playFilm).catch(function (err) {
      // Without a touch it is only put off.
      if (err.name === 'NotAllowedError' || err.name === 'AbortError') { return; }
      awake.cannot = true; // until it is set anew
      warn('This browser can’t keep the screen on. The device itself can: how is in the menu, ' +
        'under This device.');
    }).then(function () {
      awake.asking = false;
      if (wantsAwake()) { paintAwake(); } else { letSleep(); }
    });
  }
  paintAwake();
}

function askLock() {
  if (!navigator.wakeLock) { return Promise.reject(new Error('none')); }
  return navigator.wakeLock.request('screen').then(function (lock) {
    awake.lock = lock;
    lock.addEventListener('release', function () {
      if (awake.lock === lock) { awake.lock = null; }
      paintAwake();
    });
  });
}

// playFilm settles once the film plays.
function playFilm() {
  if (!awake.film) {
    const film = awake.film = document.createElement('video');
    film.className = 'film';
    film.setAttribute('playsinline', '');
    film.setAttribute('aria-hidden', 'true');
    film.tabIndex = -1;
    film.src = document.body.dataset.film;
    film.addEventListener('timeupdate', function () {
      if (film.currentTime > 5) { film.currentTime = 0.1; }
    });
    ['playing', 'pause', 'ended', 'error', 'emptied'].forEach(function (kind) {
      film.addEventListener(kind, function () {
        awake.plays = kind === 'playing';
        paintAwake();
      });
    });
    document.body.appendChild(film);
  }
  return Promise.resolve(awake.film.play());
}

function letSleep() {
  const lock = awake.lock;
  awake.lock = null;
  if (lock) { lock.release().catch(function () { /* it is gone already */ }); }
  if (awake.film) { awake.film.pause(); }
  paintAwake();
}

function paintAwake() {
  const on = isAwake();
  awake.mark.hidden = !setting('awake') || allDone(shown);
  awake.mark.dataset.awake = on ? 'on' : 'off';
  awake.mark.querySelector('path').setAttribute('d', 'M4 6h24v15H4zM11 27h10' +
    (on ? '' : 'M5 29L27 2'));
  write(awake.mark.lastElementChild.lastElementChild, on ? 'stays on' : 'may go dark');
}

startAwake();

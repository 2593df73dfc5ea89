'use strict';
// Counts while something cools, dries or is pressed. The How? of a step that presses, starches or
// marks starts a count; its mark stands beside the last thing done, whatever step is looked at and
// after the page comes anew, as the time when it ends is kept in the browser. At its end it says
// so, once, and sounds where the browser allows that.
const counts = [[10, '10 s'], [30, '30 s'], [300, '5 min']];
const count = { mark: null, ends: 0, timer: 0, sound: null };

function startCount() {
  const b = count.mark = document.createElement('button');
  b.type = 'button';
  b.className = 'count';
  b.hidden = true;
  b.addEventListener('click', function () { keepCount(0); });
  el('sync').parentNode.insertBefore(b, el('sync'));
  document.addEventListener('toggle', function (e) {
    if (e.target.open && e.target.classList.contains('how')) { offerCount(e.target); }
  }, true);
  document.addEventListener('visibilitychange', paintCount);
  window.addEventListener('storage', function (e) { if (e.key === 'count') { readCount(); } });
  all('.how[open]').forEach(offerCount);
  readCount();
}

// readCount takes up a count that was started before; one that ended long ago is of no use.
function readCount() {
  const ends = Number(localStorage.getItem('count')) || 0;
  count.ends = ends && Date.now() - ends < 600000 ? ends : 0;
  if (ends && !count.ends) { localStorage.removeItem('count'); }
  count.mark.removeAttribute('data-up');
  runCount();
}

function keepCount(ends) {
  count.ends = ends;
  count.mark.removeAttribute('data-up');
  try {
    if (ends) { localStorage.setItem('count', ends); } else { localStorage.removeItem('count'); }
  } catch (e) { /* for this page only, then */ }
  runCount();
}

function runCount() {
  clearInterval(count.timer);
  if (count.ends) { count.timer = setInterval(paintCount, 250); }
  paintCount();
}

function paintCount() {
  const b = count.mark;
  b.hidden = !count.ends;
  if (!count.ends) { return; }
  const left = Math.ceil((count.ends - Date.now()) / 1000);
  if (left > 0) {
    const shows = inMinutes(left);
    write(b, shows);
    b.setAttribute('aria-label', shows + ' left: stop the count');
  } else if (!b.hasAttribute('data-up')) {
    clearInterval(count.timer);
    b.setAttribute('data-up', '');
    write(b, 'Time is up');
    b.setAttribute('aria-label', 'Time is up: put it away');
    announce('Time is up.');
    soundCount();
  }
}

function inMinutes(seconds) {
  const rest = seconds % 60;
  return Math.floor(seconds / 60) + ':' + (rest < 10 ? '0' : '') + rest;
}

// secondsOf reads a time as people write one: 2 is two minutes, so is 2:00; 0 is none.
function secondsOf(text) {
  const parts = /^\s*(\d{1,3})(?:[.,](\d)|:([0-5]\d))?\s*$/.exec(text);
  return parts ? parts[1] * 60 + (parts[2] || 0) * 6 + Number(parts[3] || 0) : 0;
}

// Counts are offered where heat, starch or a marker is at work.
function offerCount(how) {
  const over = how.querySelector('.over');
  const text = ['h1', '.say', '.caution'].map(function (part) {
    const box = how.parentNode.querySelector(part);
    return box ? box.textContent : '';
  }).join(' ');
  if (over.querySelector('.counts') || !/\b(press|iron|starch|mark|draw|dry|cool)/i.test(text)) {
    return;
  }
  const box = add(over, 'div', '');
  box.className = 'counts';
  add(box, 'p', 'Count while it cools, dries or is pressed').className = 'what';
  const row = add(box, 'p', '');
  row.className = 'chips';
  counts.forEach(function (c) {
    const b = add(row, 'button', c[1]);
    b.type = 'button';
    b.addEventListener('click', function () { beginCount(how, c[0]); });
  });
  const own = add(box, 'form', '');
  const label = add(own, 'label', 'Own time, minutes ');
  const input = add(label, 'input', '');
  input.setAttribute('inputmode', 'decimal');
  input.maxLength = 6;
  input.autocomplete = 'off';
  add(own, 'button', 'Start');
  own.addEventListener('submit', function (e) {
    e.preventDefault();
    const seconds = secondsOf(input.value);
    flag(input, 'aria-invalid', !seconds, 'true');
    if (seconds) { beginCount(how, seconds); } else { input.focus(); }
  });
}

function beginCount(how, seconds) {
  how.open = false;
  how.querySelector('summary').focus({ preventScroll: true });
  allowSound();
  announce('Counting ' + inMinutes(seconds) + '.');
  keepCount(Date.now() + seconds * 1000);
}

// allowSound asks for sound while a finger is on the screen: later a browser refuses it.
function allowSound() {
  const Sound = window.AudioContext || window.webkitAudioContext;
  if (!Sound) { return; }
  if (!count.sound) { count.sound = new Sound(); }
  if (count.sound.resume) { count.sound.resume(); }
}

// soundCount is three soft tones.
function soundCount() {
  const sound = count.sound;
  if (!sound || sound.state !== 'running') { return; }
  [0, 0.5, 1].forEach(function (after) {
    const at = sound.currentTime + after;
    const tone = sound.createOscillator();
    const gain = sound.createGain();
    tone.frequency.value = 660;
    gain.gain.setValueAtTime(0.0001, at);
    gain.gain.exponentialRampToValueAtTime(0.3, at + 0.03);
    gain.gain.exponentialRampToValueAtTime(0.0001, at + 0.35);
    tone.connect(gain);
    gain.connect(sound.destination);
    tone.start(at);
    tone.stop(at + 0.4);
  });
}

startCount();

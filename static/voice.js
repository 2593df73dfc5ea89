'use strict';
// Reads a step aloud: its cautions, what it is, its command and its number. By a button, or each
// new step by itself. It stops when another step shows, or the button is touched again.
const voice = { button: null, says: null, at: '' };

function startVoice() {
  const b = voice.button = document.createElement('button');
  b.type = 'button';
  b.className = 'voice';
  b.innerHTML = '<svg class="m" viewBox="0 0 32 32" aria-hidden="true">' +
    '<path class="m-line"/></svg>';
  b.addEventListener('click', function () {
    if (voice.says) { hushVoice(); } else { readAloud(true); }
  });
  const last = document.querySelector('.last');
  last.insertBefore(b, last.querySelector('.menu'));
  voice.at = inSight();
  document.addEventListener('painted', followVoice);
  document.addEventListener('set', paintVoice);
  window.addEventListener('pagehide', hushVoice);
  paintVoice();
  if (setting('voice') === 'each') { readAloud(false); }
}

// inSight is the tick that shows; '' where none does.
function inSight() { return view.kind === 'step' ? view.tick.id : ''; }

function followVoice() {
  if (inSight() === voice.at) { return; }
  voice.at = inSight();
  hushVoice();
  if (setting('voice') === 'each') { readAloud(false); }
}

function readAloud(asked) {
  if (!inSight()) { return; }
  if (!window.speechSynthesis) {
    cannotRead(asked);
    return;
  }
  // A browser may let go of what it says while it says it, if nobody else holds it.
  const says = voice.says = new SpeechSynthesisUtterance(spoken(stepInWords(view.tick)));
  says.lang = 'en-US';
  let begun = false;
  const over = function () {
    if (voice.says === says) { voice.says = null; }
    paintVoice();
  };
  says.onstart = function () { begun = true; };
  says.onend = over;
  says.onerror = function (e) {
    const mine = voice.says === says;
    over();
    // Unasked, a browser may want a touch first.
    if (mine && e.error !== 'interrupted' && e.error !== 'canceled') { cannotRead(asked); }
  };
  setTimeout(function () {
    if (begun || voice.says !== says || speechSynthesis.getVoices().length) { return; }
    hushVoice();
    cannotRead(asked);
  }, 3000);
  const speak = function () { if (voice.says === says) { speechSynthesis.speak(says); } };
  // Right after it was told to stop, a browser may swallow what it is told to say.
  if (speechSynthesis.speaking) { setTimeout(speak, 100); } else { speak(); }
  paintVoice();
}

function cannotRead(asked) {
  if (asked) { warn('This browser can’t read aloud.'); }
}

// stepInWords is what the screen says, in the order in which it is needed.
function stepInWords(t) {
  const number = t.box.querySelector('.worked');
  return ['.caution', 'h1', '.say'].map(function (part) {
    const box = t.box.querySelector(part);
    return box ? box.textContent : '';
  }).concat(number ? [
    number.querySelector('.of span').textContent + ': ' + number.querySelector('.vh').textContent
  ] : []).reduce(function (all, text) {
    const line = text.replace(/\s+/g, ' ').trim();
    return line ? all + ' ' + line + (/[.:!?]$/.test(line) ? '' : '.') : all;
  }, t.step.title + '.');
}

function hushVoice() {
  if (!voice.says) { return; }
  voice.says = null;
  speechSynthesis.cancel();
  paintVoice();
}

function paintVoice() {
  const b = voice.button;
  b.hidden = !setting('voice') || view.kind !== 'step';
  b.setAttribute('aria-label', voice.says ? 'Stop reading' : 'Read aloud');
  b.querySelector('path').setAttribute('d', voice.says ? 'M8 8h16v16H8z' :
    'M4 12h6l7-6v20l-7-6H4zM21 12q3 4 0 8M25 8q6 8 0 16');
}

startVoice();

'use strict';
// The pad takes a measure with one finger: digits, and fractions down to a sixteenth in
// two taps. A keyboard types into its field as into any other.
const pad = { field: null, fresh: true, dialog: null };

function startPad() {
  const input = el('pad-in');
  // Left, what was typed is not meant any more.
  el('pad').addEventListener('click', function (e) {
    if (e.target === el('pad') || e.target.hasAttribute('data-cancel')) { leavePad(); }
  });
  el('pad').addEventListener('keydown', function (e) { if (e.key === 'Escape') { leavePad(); } });
  pad.dialog = dialogOf(el('pad'), function () { return pad.field.querySelector('input'); });
  el('main').addEventListener('click', function (e) {
    const field = e.target.tagName === 'INPUT' && e.target.closest('.field[data-measure]');
    if (field) { openPad(field); }
  });
  el('pad').addEventListener('click', function (e) {
    const b = e.target.closest('button');
    if (!b || b.hasAttribute('data-cancel')) { return; }
    if (b.id === 'pad-yes') { takePad(); return; }
    if (b.dataset.pad === 'plan') {
      input.value = b.textContent;
      takePad();
      return;
    }
    const was = pad.fresh ? '' : input.value;
    input.value = b.dataset.part || b.dataset.pad === 'finer' ?
      part(was, Number(b.dataset.part || 0)) :
      b.dataset.pad ? less(b.dataset.pad, input.value) : digit(was, b.textContent);
    pad.fresh = false;
    input.dispatchEvent(new Event('input', { bubbles: true }));
  });
  input.addEventListener('input', function () { pad.fresh = false; });
  input.addEventListener('keydown', function (e) {
    if (e.key !== 'Enter') { return; }
    e.preventDefault();
    takePad();
  });
}

// A value as the pad makes it: a whole number and sixteenths.
function halves(text) {
  const m = /^(\d*)\s*(?:(\d+)\/(\d+))?$/.exec(text.trim());
  if (!m) { return null; }
  return { whole: m[1], part: m[2] ? Math.round(16 * m[2] / m[3]) : 0 };
}

function written(v) {
  let n = v.part, d = 16;
  while (n && n % 2 === 0) { n /= 2; d /= 2; }
  return (v.whole + (n ? ' ' + n + '/' + d : '')).trim();
}

function digit(text, d) {
  const v = halves(text);
  if (d === ',' || /[.,]/.test(text) || !v) { return text + d; }
  v.whole += d;
  return written(v);
}

// part puts a fraction to the whole; 0 makes the one that is there a sixteenth more.
function part(text, sixteenths) {
  // "36" with 7/8 could be read as 367/8: a fraction that stands alone is none of these.
  const v = halves(/^\d+\/\d+$/.test(text.trim()) ? ' ' + text : text);
  const m = /^\s*(\d+)\/(\d+)$/.exec(text);
  const is = m ? { whole: '', part: Math.round(16 * m[1] / m[2]) } : v;
  if (!is) { return text; }
  is.part = sixteenths || (is.part + 1) % 16;
  return written(is);
}

function less(how, text) {
  if (how === 'clear') { return ''; }
  if (/\d\/\d+\s*$/.test(text)) { return text.replace(/\s*\d+\/\d+\s*$/, ''); }
  return text.slice(0, -1);
}

function openPad(field) {
  pad.field = field;
  pad.fresh = !field.classList.contains('half'); // half typed, it goes on
  const input = el('pad-in');
  write(el('pad-title'), field.querySelector('label').textContent);
  input.value = field.querySelector('input').value;
  el('pad-plan').hidden = !field.dataset.expect;
  write(el('pad-plan').querySelector('button'), field.dataset.expect || '');
  pad.dialog.open(input);
  if (pad.fresh) { input.select(); }
}

function leavePad() {
  sentHalf(pad.field.dataset.measure);
  write(pad.field.querySelector('.fault'), '');
  again();
}

function takePad() {
  const input = pad.field.querySelector('input');
  const value = el('pad-in').value.trim();
  // The same once more does its tick, where that is still open.
  const was = shown.values[pad.field.dataset.measure] || '';
  if (was !== value || value && !shown.done[pad.field.dataset.with]) {
    input.value = value;
    input.dispatchEvent(new Event('change', { bubbles: true }));
  }
  sentHalf(pad.field.dataset.measure);
  pad.dialog.close();
}

'use strict';
// What is measured and noted: kept when the field is left.
function valueOf(f) {
  if (f.tagName !== 'FIELDSET') { return f.querySelector('input').value; }
  const on = f.querySelector('input:checked');
  return on ? on.value : '';
}

function setValue(f, value) {
  if (f.tagName !== 'FIELDSET') {
    const input = f.querySelector('input');
    if (input.value !== value) { input.value = value; }
    return;
  }
  all('input', f).forEach(function (i) { i.checked = i.value === value; });
}

// dressFields has the tablet's keyboard stay away: the pad is in its place.
function dressFields(root) {
  all('.field input', root).forEach(function (i) { i.setAttribute('inputmode', 'none'); });
}

// enter sends what was measured. A length does its tick too, where that can be believed.
function enter(f) {
  sentHalf(f.dataset.measure);
  const value = valueOf(f).trim();
  const op = { kind: 'measure', measure: f.dataset.measure, value: value };
  if (value && f.tagName !== 'FIELDSET') { op.done = true; }
  send(op);
  announceNext(byMeasure[f.dataset.measure].label + ': ' + (value || 'taken away'));
}

function startMeasure() {
  const main = el('main');
  main.addEventListener('change', function (e) {
    const f = e.target.closest('[data-measure]');
    if (f) {
      f.classList.remove('bad');
      write(f.querySelector('.fault'), '');
      enter(f);
    } else if (e.target.dataset.note) {
      sentHalf(e.target.dataset.note);
      e.target.closest('details').classList.remove('half');
      send({ kind: 'note', step: e.target.dataset.note, text: e.target.value.trim() });
    }
  });
  main.addEventListener('click', function (e) {
    if (e.target.dataset.seen === undefined) { return; }
    e.target.closest('details').open = false;
    send({ kind: 'seen', step: view.tick.step.id });
  });
  main.addEventListener('keydown', function (e) {
    if (e.key !== 'Enter' || e.target.tagName !== 'INPUT') { return; }
    e.preventDefault();
    e.target.blur();
  });
}

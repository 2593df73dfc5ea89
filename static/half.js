'use strict';
// What is half typed and not sent yet, a measure or a note: kept in this browser, so that a
// reload loses none of it.
const halfOf = 'half:' + session + ':';

// keepHalf keeps what stands in a field; the same as what is kept on the server is nothing.
function keepHalf(id, text, sent) {
  if (text.trim() === sent) { unstore(halfOf + id); } else { store(halfOf + id, text); }
}

function sentHalf(id) {
  unstore(halfOf + id);
  const f = el('f-' + id);
  if (f) { f.classList.remove('half'); }
}

// bringHalves puts what was half typed back into its fields.
function bringHalves() {
  stored(halfOf).forEach(function (row) {
    const id = row.key.slice(halfOf.length), f = el('f-' + id), n = el('n-' + id);
    if (f && f.tagName !== 'FIELDSET') {
      f.classList.add('half');
      f.querySelector('input').value = row.value;
      write(f.querySelector('.fault'), 'Not kept yet. Touch it to go on.');
    } else if (n) {
      n.value = row.value;
      n.closest('details').classList.add('half');
    }
  });
}

function startHalves() {
  bringHalves();
  document.addEventListener('input', function (e) {
    const f = e.target.id === 'pad-in' ? pad.field : e.target.closest('.field');
    if (f) {
      keepHalf(f.dataset.measure, e.target.value, shown.values[f.dataset.measure] || '');
    } else if (e.target.dataset.note) {
      keepHalf(e.target.dataset.note, e.target.value, shown.notes[e.target.dataset.note] || '');
    }
  });
}

'use strict';
// The machine's settings stand in the note of its step, a line each, and on its screen. An empty
// note opens with the lines to fill in, which nobody is sent before they are changed.
function paintMachine() {
  const area = document.querySelector('[data-lines]');
  if (!area) { return; }
  const asked = area.dataset.lines.split('\n').map(function (line) { return line.trim(); });
  const note = shown.notes[area.dataset.note] || '';
  if (area !== document.activeElement && !note) {
    area.value = area.closest('details').open ? area.dataset.lines : '';
  }
  const lines = note.split('\n').map(function (line) { return line.trim(); });
  const told = lines.filter(function (line) { return line && asked.indexOf(line) < 0; });
  const box = area.closest('.step').querySelector('.noted'), p = box.firstElementChild;
  if (told.length) { write(area.closest('details').firstElementChild, 'Note'); } // it stands there
  if (box.dataset.key === told.join('\n')) { return; }
  box.dataset.key = told.join('\n');
  p.textContent = '';
  told.forEach(function (line) {
    add(p, 'span', line);
    p.appendChild(document.createTextNode(' '));
  });
  box.hidden = !told.length;
  if (view.kind === 'step' && view.tick.step.box.contains(box)) { refit(); }
}

document.addEventListener('painted', paintMachine);
document.addEventListener('toggle', paintMachine, true);
paintMachine();

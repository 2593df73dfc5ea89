'use strict';
// What needs a reason: the trim of a corner that was seen not to be right.
const why = { then: null };

function askReason(title, what, yes, then) {
  why.then = then;
  write(el('why-title'), title);
  write(el('why-what'), what);
  write(el('why-yes'), yes);
  el('why-text').value = '';
  el('why').hidden = false;
  el('why-title').focus();
}

function startReason() {
  const box = el('why');
  const close = function () {
    box.hidden = true;
    el('do').focus();
  };
  box.addEventListener('click', function (e) {
    if (e.target.id === 'why-no' || e.target === box) { close(); }
    if (e.target.id !== 'why-yes') { return; }
    const text = el('why-text').value.trim();
    if (!text) {
      el('why-text').focus();
      return;
    }
    close();
    why.then(text);
  });
  box.addEventListener('keydown', function (e) {
    if (e.key === 'Escape') { close(); }
    if (e.key !== 'Tab') { return; }
    const stops = all('button, input', box);
    const end = e.shiftKey ? stops[0] : stops[stops.length - 1];
    if (document.activeElement === end) {
      e.preventDefault();
      (e.shiftKey ? stops[stops.length - 1] : stops[0]).focus();
    }
  });
}

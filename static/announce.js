'use strict';
// What is told beside the work.
// announce tells those who do not see the screen; once per change.
function announce(text) { write(el('said'), text); }

// warn is what must be seen: it stays until it is answered, and is said once.
function warn(text) {
  const box = el('warned');
  if (all('p', box).some(function (p) { return p.textContent === text; })) { return; }
  const line = document.createElement('p');
  line.textContent = text;
  box.insertBefore(line, box.lastElementChild);
  box.hidden = false;
}

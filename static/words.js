'use strict';
// Small words that the other files are written in.
const session = document.body.dataset.id;
const base = '/s/' + session;

// stepPath is the address of a step.
function stepPath(step) { return base + '/step/' + step.id; }

function el(id) { return document.getElementById(id); }
function all(selector, within) {
  return Array.from((within || document).querySelectorAll(selector));
}

function write(node, text) {
  if (node && node.textContent !== text) { node.textContent = text; }
}

function mark(svg, name) {
  const use = svg.firstElementChild;
  if (use.getAttribute('href') !== name) { use.setAttribute('href', name); }
}

// newID is 128 bits that no other device makes.
function newID() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, function (b) { return (b < 16 ? '0' : '') + b.toString(16); }).join('');
}

function clock(at) {
  const t = new Date(at);
  return ('0' + t.getHours()).slice(-2) + ':' + ('0' + t.getMinutes()).slice(-2);
}

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

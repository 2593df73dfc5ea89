'use strict';
// Short names for what the other files do to the page.
function el(id) { return document.getElementById(id); }
function all(selector, within) {
  return Array.from((within || document).querySelectorAll(selector));
}

function write(node, text) {
  if (node && node.textContent !== text) { node.textContent = text; }
}

// add puts a new element at the end of another.
function add(parent, tag, text) {
  const node = document.createElement(tag);
  node.textContent = text;
  return parent.appendChild(node);
}

function mark(svg, name) {
  const use = svg.firstElementChild;
  if (use.getAttribute('href') !== name) { use.setAttribute('href', name); }
}

// flag gives a node an attribute, or takes it away.
function flag(node, name, on, value) {
  if (on === node.hasAttribute(name)) { return; }
  if (on) { node.setAttribute(name, value || ''); } else { node.removeAttribute(name); }
}

// isOn tells whether a finger is on an element.
function isOn(e, finger) {
  return e.contains(document.elementFromPoint(finger.clientX, finger.clientY));
}

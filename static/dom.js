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

function flag(node, name, on) {
  if (on !== node.hasAttribute(name)) {
    if (on) { node.setAttribute(name, ''); } else { node.removeAttribute(name); }
  }
}

function currentStep(node, on) {
  if (on) {
    node.setAttribute('aria-current', 'step');
  } else {
    node.removeAttribute('aria-current');
  }
}

'use strict';
// How this device shows things, set before the page is drawn, so that nothing jumps. What it
// is set to is kept in the browser; menu.js changes it.
const textSizes = [0.8, 0.9, 1, 1.1, 1.2, 1.35, 1.5];
const setHere = {}; // on this page, whether or not the browser keeps it

function setting(name) {
  if (name in setHere) { return setHere[name]; }
  try { return localStorage.getItem(name) || ''; } catch (e) { return ''; }
}

function textSize() {
  const scale = parseFloat(setting('scale'));
  return textSizes.indexOf(scale) < 0 ? 1 : scale;
}

function showAsSet() {
  const root = document.documentElement;
  root.style.setProperty('--scale', textSize());
  root.className = (textSize() > 1.1 ? 'js large ' : 'js ') + setting('hand');
  root.setAttribute('data-theme', setting('look'));
}
showAsSet();

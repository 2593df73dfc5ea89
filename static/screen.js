'use strict';
// How this device shows things: the size of the text, day or night. Runs before
// the page is drawn, so that nothing jumps.
(function () {
  var root = document.documentElement;
  var sizes = [0.8, 0.9, 1, 1.1, 1.2, 1.35, 1.5];
  function stored(name) { try { return localStorage.getItem(name); } catch (e) { return null; } }
  function store(name, value) {
    try {
      if (value) { localStorage.setItem(name, value); } else { localStorage.removeItem(name); }
    } catch (e) { /* for this page only, then */ }
  }
  var scale = sizes.indexOf(parseFloat(stored('scale'))) < 0 ? 1 : parseFloat(stored('scale'));
  var theme = stored('look');

  function scaled() {
    root.style.setProperty('--scale', scale);
    root.className = scale > 1.1 ? 'js large' : 'js';
  }

  function themed() {
    if (theme) {
      root.setAttribute('data-theme', theme);
    } else {
      root.removeAttribute('data-theme');
    }
  }

  function set() {
    scaled();
    themed();
    var out = document.querySelector('.screen output');
    if (out) { out.textContent = Math.round(scale * 100) + ' %'; }
    var all = document.querySelectorAll('[data-theme-set]');
    for (var i = 0; i < all.length; i++) {
      all[i].setAttribute('aria-pressed', all[i].getAttribute('data-theme-set') === (theme || ''));
    }
    window.dispatchEvent(new Event('resize'));
  }
  scaled();
  themed();

  document.addEventListener('DOMContentLoaded', function () {
    var box = document.querySelector('.screen');
    if (!box) { return; }
    box.hidden = false;
    box.addEventListener('click', function (e) {
      var b = e.target.closest('button');
      if (!b) { return; }
      if (b.dataset.size) {
        var at = sizes.indexOf(scale) + Number(b.dataset.size);
        scale = sizes[Math.max(0, Math.min(sizes.length - 1, at))];
        store('scale', scale === 1 ? '' : String(scale));
      } else {
        theme = b.dataset.themeSet;
        store('look', theme);
      }
      set();
    });
    set();
  });
}());

'use strict';
// What the menu and the page of settings set for this device. A button with data-set sets
// that to its data-value; with data-toggle, a second press sets it back.
(function () {
  function set(name, value) {
    setHere[name] = value;
    try {
      if (value) { localStorage.setItem(name, value); } else { localStorage.removeItem(name); }
    } catch (e) { /* for this page only, then */ }
  }

  function buttons() { return Array.from(document.querySelectorAll('[data-set]')); }

  // The server draws cuts for the hand, and is told it by a cookie. Some browsers keep one that
  // a script made for days only: each page gives it anew.
  function tellHand() {
    const hand = setting('hand');
    if (hand || document.cookie.indexOf('cornerwise-hand') >= 0) {
      document.cookie = 'cornerwise-hand=' + hand + ';path=/;samesite=lax;max-age=' +
        (hand ? 34560000 : 0);
    }
  }

  function show() {
    showAsSet();
    tellHand();
    buttons().forEach(function (b) {
      b.setAttribute('aria-pressed', setting(b.dataset.set) === b.dataset.value);
    });
    Array.from(document.querySelectorAll('.sizes output')).forEach(function (out) {
      out.textContent = Math.round(textSize() * 100) + ' %';
    });
    window.dispatchEvent(new Event('resize'));
  }

  document.addEventListener('click', function (e) {
    const b = e.target.closest('[data-set], [data-size]');
    if (!b) { return; }
    if (b.dataset.size) {
      const at = textSizes.indexOf(textSize()) + Number(b.dataset.size);
      const scale = textSizes[Math.max(0, Math.min(textSizes.length - 1, at))];
      set('scale', scale === 1 ? '' : String(scale));
    } else {
      const back = b.hasAttribute('data-toggle') && setting(b.dataset.set) === b.dataset.value;
      set(b.dataset.set, back ? '' : b.dataset.value);
    }
    show();
    document.dispatchEvent(new Event('set'));
  });
  Array.from(document.querySelectorAll('.screen')).forEach(function (box) { box.hidden = false; });
  show();
}());

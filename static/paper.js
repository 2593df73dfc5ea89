'use strict';
// The pages to print: what they can do more where there are scripts.
(function () {
  document.querySelectorAll('[data-print]').forEach(function (b) {
    b.hidden = false;
    b.addEventListener('click', function () { window.print(); });
  });
  document.querySelectorAll('[data-copy]').forEach(function (b) {
    const from = document.getElementById(b.dataset.copy);
    b.hidden = false;
    b.addEventListener('click', function () {
      // The old way: it also works on plain http.
      from.select();
      from.setSelectionRange(0, from.value.length);
      b.textContent = document.execCommand('copy') ? 'Copied' : 'Could not copy: take it as text';
      b.focus();
    });
  });
}());

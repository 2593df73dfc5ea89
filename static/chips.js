'use strict';
// Fractions to tap, under the length that is being written.
(function () {
  const chips = document.getElementById('chips');
  let field = null;
  document.addEventListener('focusin', function (e) {
    if (!e.target.hasAttribute('data-length')) { return; }
    field = e.target;
    const inches = document.querySelector('[name=unit]:checked').value === 'in';
    chips.hidden = !inches;
    const box = field.closest('.field');
    box.parentNode.insertBefore(chips, box.nextSibling);
  });
  // Focus stays in the field: a chip is no stop on the way.
  chips.addEventListener('mousedown', function (e) { e.preventDefault(); });
  chips.addEventListener('click', function (e) {
    if (e.target.tagName !== 'BUTTON') { return; }
    const whole = field.value.replace(/\s*\d+\s*\/\s*\d*\s*$/, '').replace(/[\s-]+$/, '');
    field.value = (whole + ' ' + e.target.textContent).trim();
    field.dispatchEvent(new Event('input', { bubbles: true }));
    field.focus();
  });
}());

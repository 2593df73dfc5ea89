'use strict';
// A count comes when a How? is opened, or when one runs already.
document.addEventListener('toggle', function (e) {
  if (e.target.open && e.target.classList.contains('how')) { bring('count'); }
}, true);
try {
  if (localStorage.getItem('count')) { bring('count'); }
} catch (e) { /* none runs, then */ }

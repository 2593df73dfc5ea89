'use strict';
// A code that was used or is over makes room for the next, and who came in shows,
// without anyone asking.
(function () {
  const main = document.getElementById('devices');
  let last = main.innerHTML;
  setInterval(function () {
    const at = document.activeElement;
    // What is opened to be read is no form that somebody fills in.
    if (document.visibilityState === 'hidden' || main.contains(at) && at.tagName !== 'SUMMARY') { return; }
    fetch(location.href, { credentials: 'same-origin' }).then(function (res) {
      if (!res.ok) { throw new Error(res.status); }
      return res.text();
    }).then(function (text) {
      const page = new DOMParser().parseFromString(text, 'text/html');
      const now = page.getElementById('devices').innerHTML;
      if (now !== last) {
        const open = main.querySelector('details[open]');
        main.innerHTML = now;
        if (open && main.querySelector('details')) { main.querySelector('details').open = true; }
      }
      last = now;
    }).catch(function () { /* the next one may come through */ });
  }, 2000);
}());

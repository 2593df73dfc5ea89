'use strict';
// The plan's picture and sizes, worked out by the server as one types. What is
// typed is never touched, and a field is not scolded before it was left.
(function () {
  const form = document.getElementById('plan');
  const box = document.getElementById('preview');
  const left = {}; // fields that were left with something in them
  let timer = 0;
  let asked = 0;

  form.querySelectorAll('.bad input').forEach(function (i) { left[i.name] = true; });

  function soon() {
    clearTimeout(timer);
    timer = setTimeout(ask, 250);
  }

  function sent() {
    const pairs = [];
    form.querySelectorAll('input, select').forEach(function (i) {
      if (i.name && (i.type !== 'radio' || i.checked)) {
        pairs.push(encodeURIComponent(i.name) + '=' + encodeURIComponent(i.value));
      }
    });
    return pairs.join('&');
  }

  function post(url, body) {
    return fetch(url, {
      method: 'POST', credentials: 'same-origin', body: body,
      headers: { 'Content-Type': 'application/x-www-form-urlencoded' }
    }).then(function (res) {
      if (!res.ok) { throw new Error(res.status); }
      return res.text();
    });
  }

  function ask() {
    const mine = ++asked;
    post('/new/preview', sent()).then(function (html) {
      if (mine !== asked) { return; }
      const made = document.createElement('div');
      made.innerHTML = html;
      const faults = {};
      made.querySelectorAll('[data-fault]').forEach(function (f) { faults[f.dataset.fault] = f.textContent; });
      // Half a number is no reason to take the picture away.
      if (made.querySelector('.pic') || !box.querySelector('.pic')) {
        box.innerHTML = html;
        box.classList.remove('stale');
      } else {
        box.classList.add('stale');
      }
      scold(faults);
    }).catch(function () { /* the picture stays as it is */ });
  }

  function scold(faults) {
    form.querySelectorAll('.field').forEach(function (field) {
      const input = field.querySelector('[name]');
      const said = field.querySelector('.fault');
      if (!input || !said) { return; }
      const fault = left[input.name] && input.value.trim() && faults[input.name] || '';
      said.textContent = fault;
      field.classList.toggle('bad', fault !== '');
      if (fault) { input.setAttribute('aria-invalid', 'true'); } else { input.removeAttribute('aria-invalid'); }
    });
  }

  form.addEventListener('input', soon);
  form.addEventListener('change', soon);
  form.addEventListener('focusout', function (e) {
    if (e.target.name && e.target.value.trim()) {
      left[e.target.name] = true;
      soon();
    }
  });

  // Another border, without losing the place on the page.
  form.addEventListener('click', function (e) {
    const b = e.target.closest('button[name=do]');
    if (!b) { return; }
    e.preventDefault();
    post('/new/edit', sent() + '&do=' + b.value).then(function (html) {
      document.body.appendChild(document.getElementById('chips'));
      const made = new DOMParser().parseFromString(html, 'text/html');
      document.getElementById('borders').innerHTML = made.getElementById('borders').innerHTML;
      const deed = b.value.split('-');
      const n = deed[0] === 'up' ? deed[1] - 1 : deed[0] === 'down' ? Number(deed[1]) + 1 : 0;
      const at = document.querySelector(deed[0] === 'add' ? '.border:last-of-type input' : '#border-' + n + ' header button');
      if (at) { at.focus(); }
      soon();
    }).catch(function () { form.submit(); });
  });

  const first = document.getElementById(form.dataset.first || 'title');
  if (first && (form.dataset.first || !('ontouchstart' in window))) { first.focus(); }
}());

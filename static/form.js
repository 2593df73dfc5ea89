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
      made.querySelectorAll('[data-fault]').forEach(function (f) {
        faults[f.dataset.fault] = f.textContent;
      });
      // Half a number is no reason to take the picture away.
      if (made.querySelector('.pic') || !box.querySelector('.pic')) {
        box.innerHTML = html;
        box.classList.remove('stale');
        keepInSight();
      } else {
        box.classList.add('stale');
      }
      scold(faults);
      const comes = {};
      made.querySelectorAll('[data-beside]').forEach(function (b) {
        comes[b.dataset.beside] = b.textContent;
      });
      form.querySelectorAll('[data-beside-of]').forEach(function (p) {
        p.textContent = comes[p.dataset.besideOf] || '';
        p.parentNode.classList.toggle('told', p.textContent !== '');
      });
    }).catch(function () { /* the picture stays as it is */ });
  }

  // The picture stays in sight where it is seen whole, above the button.
  function keepInSight() {
    const room = window.innerHeight - form.querySelector('.go').offsetHeight - 48;
    box.classList.toggle('whole', box.offsetHeight <= room);
  }
  window.addEventListener('resize', keepInSight);
  window.addEventListener('load', keepInSight);

  function scold(faults) {
    form.querySelectorAll('.field').forEach(function (field) {
      const input = field.querySelector('[name]');
      const said = field.querySelector('.fault');
      if (!input || !said) { return; }
      const fault = left[input.name] && input.value.trim() && faults[input.name] || '';
      said.textContent = fault;
      field.classList.toggle('bad', fault !== '');
      if (fault) {
        const fold = field.closest('details');
        if (fold) { fold.open = true; }
        input.setAttribute('aria-invalid', 'true');
      } else {
        input.removeAttribute('aria-invalid');
      }
    });
  }

  // unreached says beside a button that what it does was not done.
  function unreached(b) {
    const p = document.createElement('p');
    p.className = 'faults unreached';
    p.setAttribute('role', 'alert');
    p.textContent = 'This was not done: the server can\'t be reached, or is busy. Nothing is lost: ' +
      'do it again in a moment.';
    b.parentNode.insertBefore(p, b.nextSibling);
  }

  form.addEventListener('input', soon);
  form.addEventListener('change', soon);
  form.addEventListener('focusout', function (e) {
    if (e.target.name && e.target.value.trim()) {
      left[e.target.name] = true;
      soon();
    }
  });

  // Another border or line, another width, coping strips: the parts that they change
  // are exchanged, and what is open, and the place on the page, stay.
  form.addEventListener('click', function (e) {
    const b = e.target.closest('button[name=do]');
    if (!b) { return; }
    e.preventDefault();
    const was = form.querySelector('.unreached');
    if (was) { was.parentNode.removeChild(was); }
    edit(b.value).catch(function () { unreached(b); });
  });

  function edit(deed) {
    return post('/new/edit', sent() + '&do=' + encodeURIComponent(deed)).then(function (html) {
      document.body.appendChild(document.getElementById('chips'));
      const made = new DOMParser().parseFromString(html, 'text/html');
      const open = Array.prototype.map.call(form.querySelectorAll('details[open]'), function (d) {
        return d.id;
      });
      ['borders', 'coping', 'wanted'].forEach(function (part) {
        document.getElementById(part).innerHTML = made.getElementById(part).innerHTML;
      });
      open.forEach(function (id) {
        const d = document.getElementById(id);
        if (d) { d.open = true; }
      });
      const at = focusAfter(deed.split('-'));
      if (at) { at.focus(); }
      soon();
    });
  }

  // A photo of the fabric: its script and its style come when they are asked for. It hears which
  // border it is for, and says what is to be done with the form (fabric.js).
  form.addEventListener('click', function (e) {
    const b = e.target.closest('[data-photo]');
    if (!b) { return; }
    const border = Number(b.dataset.photo);
    if (window.openFabric) { window.openFabric(border); return; }
    const style = document.createElement('link');
    style.rel = 'stylesheet';
    style.href = document.body.dataset.fabricStyle;
    const script = document.createElement('script');
    script.src = document.body.dataset.fabric;
    script.onload = function () { window.openFabric(border); };
    script.onerror = function () {
      style.remove();
      script.remove();
      const said = b.closest('.fabricphoto').querySelector('.fault');
      said.textContent = 'The server can\'t be reached. Try again in a moment.';
    };
    style.onload = function () { document.body.appendChild(script); };
    style.onerror = script.onerror;
    document.head.appendChild(style);
  });
  window.planForm = { edit: edit, post: post, sent: sent };

  // Where to go on after a deed: at what it added or moved, or beside what it took away.
  function focusAfter(deed) {
    switch (deed[0]) {
      case 'add': return document.querySelector('.border:last-of-type input');
      case 'up': return document.querySelector('#border-' + (deed[1] - 1) + ' header button');
      case 'down':
        return document.querySelector('#border-' + (Number(deed[1]) + 1) + ' header button');
      case 'shown': return document.querySelector('#print-' + deed[1] + ' [data-photo]');
      case 'line':
        return document.querySelector('#border-' + deed[1] + ' .line:last-of-type input');
      case 'unline': case 'stripe': case 'unphoto':
        return document.querySelector('#print-' + deed[1] + ' summary');
    }
    return null;
  }

  const first = document.getElementById(form.dataset.first || 'title');
  if (first && (form.dataset.first || !('ontouchstart' in window))) { first.focus(); }
}());

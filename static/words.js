'use strict';
// The words of the trade that a step uses: its How? names them, and a touch on one shows what it
// is, with a drawing. They come when a How? is opened first, and are kept for when the server is
// away.
const words = { asked: null, all: [], box: null, dialog: null, from: null };

function startWords() {
  document.addEventListener('toggle', function (e) {
    if (e.target.open && e.target.classList.contains('how')) { nameWords(e.target); }
  }, true);
  document.addEventListener('click', function (e) {
    const id = e.target.getAttribute('data-word');
    if (id) { showWord(words.all.find(function (t) { return t.id === id; }), e.target); }
  });
}

// askWords has the words, from the server or as they were kept.
function askWords() {
  if (!words.asked) {
    words.asked = fetch('/terms', { credentials: 'same-origin' }).then(function (res) {
      if (!res.ok) { throw new Error(res.status); }
      return res.text();
    }).then(readWords).then(keepWords, function () {
      return readWords(localStorage.getItem('terms') || '');
    });
    words.asked.catch(function () { words.asked = null; }); // the next time, then
  }
  return words.asked;
}

function keepWords(page) {
  try { localStorage.setItem('terms', page); } catch (e) { /* while the server is there, then */ }
}

// readWords reads the page of words; a strange network's page has none.
function readWords(page) {
  const made = new DOMParser().parseFromString(page, 'text/html');
  const list = all('.term', made).map(function (box) {
    return {
      id: box.id, word: box.querySelector('h2').textContent, forms: box.dataset.forms.split('|'),
      say: box.querySelector('p').textContent, pic: box.querySelector('.pic').innerHTML
    };
  });
  if (!list.length) { throw new Error('no words'); }
  words.all = list;
  if (!words.box) { makeWordBox(made.querySelector('.defs')); }
  return page;
}

function makeWordBox(defs) {
  const box = words.box = document.createElement('section');
  box.id = 'word';
  box.className = 'dialog';
  box.hidden = true;
  box.setAttribute('role', 'dialog');
  box.setAttribute('aria-modal', 'true');
  box.setAttribute('aria-labelledby', 'word-title');
  const inner = add(box, 'div', '');
  const title = add(inner, 'h1', '');
  title.id = 'word-title';
  title.tabIndex = -1;
  add(inner, 'p', '');
  add(inner, 'figure', '').className = 'pic';
  const choose = add(inner, 'div', '');
  choose.className = 'choose';
  const back = add(choose, 'button', 'Back to the step');
  back.type = 'button';
  back.setAttribute('data-cancel', '');
  inner.appendChild(document.importNode(defs, true));
  document.body.appendChild(box);
  words.dialog = dialogOf(box, function () { return words.from; });
}

// wordsIn are the terms of a text. A longer one goes before what it is made of: a coping strip is
// no strip.
function wordsIn(text, terms) {
  const forms = [];
  terms.forEach(function (t) { t.forms.forEach(function (f) { forms.push([f, t]); }); });
  forms.sort(function (a, b) { return b[0].length - a[0].length; });
  const found = [];
  let rest = text.toLowerCase();
  forms.forEach(function (pair) {
    const left = rest.replace(new RegExp('\\b' + pair[0].replace(/ /g, '\\s+') + '\\b', 'g'), '|');
    if (left !== rest && found.indexOf(pair[1]) < 0) { found.push(pair[1]); }
    rest = left;
  });
  return terms.filter(function (t) { return found.indexOf(t) >= 0; });
}

function nameWords(how) {
  const over = how.querySelector('.over');
  if (over.querySelector('.words')) { return; }
  const text = ['h1', '.say', '.of', '.over'].map(function (part) {
    const box = how.parentNode.querySelector(part);
    return box ? box.textContent : '';
  }).join('. ');
  askWords().then(function () {
    const found = wordsIn(text, words.all);
    if (!found.length || over.querySelector('.words')) { return; }
    const box = add(over, 'div', '');
    box.className = 'words';
    over.insertBefore(box, over.querySelector('.counts')); // these last of all
    add(box, 'p', 'Words').className = 'what';
    const row = add(box, 'p', '');
    row.className = 'chips';
    found.forEach(function (t) {
      const b = add(row, 'button', t.word);
      b.type = 'button';
      b.dataset.word = t.id;
    });
  }).catch(function () { /* no words, then */ });
}

function showWord(term, button) {
  const box = words.box;
  words.from = button.closest('.how').querySelector('summary'); // its panel closes meanwhile
  write(box.querySelector('h1'), term.word.charAt(0).toUpperCase() + term.word.slice(1));
  write(box.querySelector('p'), term.say);
  box.querySelector('.pic').innerHTML = term.pic;
  words.dialog.open(box.querySelector('button'));
}

startWords();

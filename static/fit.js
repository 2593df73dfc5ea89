'use strict';
// fit finds what has to give way so that the step stands whole on the screen: the reason why
// first, it is still behind "How?"; then the act's title, where the command says it; then the
// picture's size. The command and its number stay as large as they are.
const besideFits = [
  '', 'no-why', 'no-why plain', 'no-why slim', 'no-why slim plain', 'no-why under',
  'no-why under plain', 'no-why no-pic plain', 'no-why no-more slim plain',
  'no-why no-more under plain', 'no-why no-more no-pic plain', 'no-why no-more no-pic plain bare'
];
const aboveFits = [
  '', 'plain', 'aside', 'aside plain', 'no-pic plain', 'no-more plain', 'no-more no-pic plain',
  'no-more no-pic plain bare'
];
const upright = window.matchMedia('(max-aspect-ratio: 1/1)');

// A picture is 600 by 500, its smallest words 34 high: at this scale they are 32 px. Smaller,
// it is shown without its words; too small to see, it is left out.
const readable = 0.94;
const visible = 0.3;

function fit() {
  const main = el('main');
  const large = document.documentElement.classList.contains('large');
  if (view.kind !== 'step' || large || getComputedStyle(main).overflowY === 'visible') {
    main.className = large ? 'under' : ''; // it scrolls, picture last
    if (large && main.scrollHeight > main.clientHeight + 1) { main.className = 'under plain'; }
    return;
  }
  const box = view.tick.step.box;
  const pic = (view.group || view.tick).box.querySelector('.pic');
  const scale = function () { return Math.min(pic.clientWidth / 600, pic.clientHeight / 500); };
  const stands = function (name) {
    main.className = name;
    return main.scrollHeight <= main.clientHeight + 1 && box.scrollHeight <= box.clientHeight + 1 &&
      (name.indexOf('no-pic') >= 0 || scale() >= visible);
  };
  // A scroll bar would take room from what is being fitted.
  main.style.overflow = 'hidden';
  const fits = upright.matches ? aboveFits : besideFits;
  const withWords = function (name) { return stands(name) && scale() >= readable; };
  // Above each other, the words take room from the picture.
  let best = upright.matches ? fits.slice(0, 4).findIndex(withWords) : -1;
  if (best < 0) { best = fits.findIndex(stands); }
  best = fits[best < 0 ? fits.length - 1 : best];
  if (main.className !== best) { main.className = best; }
  if (best.indexOf('no-pic') < 0 && scale() < readable) { main.classList.add('mute'); }
  main.style.overflow = '';
}

// fitAnew fits what shows now. Each tick is painted when it is touched, when it is kept and when it
// is told of; and what was fitted once, on this size of the step, is not fitted again.
let fitted = '';
let fitsOf = {}; // by what showed: the classes that it took
let size = '';

function fitAnew() {
  if (!size || !window.ResizeObserver) { size = sizeOf(el('main')); }
  const key = fitKey();
  if (key && key === fitted) { return; }
  fitted = key;
  if (fitsOf[key] === undefined) {
    fit();
    fitsOf[key] = el('main').className;
  } else {
    el('main').className = fitsOf[key];
  }
}

function refit() {
  fitted = '';
  fitsOf = {};
  fitAnew();
}

function sizeOf(e) { return e.offsetWidth + ' ' + e.offsetHeight; }

// fitKey tells one state of a step from others that may need another fit. It reads nothing for
// which the browser would have to lay out the page.
function fitKey() {
  const t = view.kind === 'step' && view.tick;
  if (!t) { return ''; }
  return [size, t.id, !!view.group, t.step.box.className].concat(
    all('.field, .choice, .found, .put, .rows li', t.step.box).filter(function (e) {
      return !e.closest('[hidden]');
    }).map(function (e) {
      return (e.id || e.className) + (e.className === 'field' ? '' : e.textContent.length);
    })).join(' ');
}

// foresee fits, while nobody acts, what the wide button will lead to: then a tap on it shows the
// next step at once. Nothing of it is drawn.
let foreseeDue = 0;
function foreseeSoon() {
  clearTimeout(foreseeDue);
  foreseeDue = setTimeout(foresee, 250);
}

function foresee() {
  const t = view.kind === 'step' && view.following && view.tick;
  const root = document.documentElement;
  if (!t || modeOf(shown, t) !== 'tick' || root.classList.contains('large') || holding ||
    el('main').contains(document.activeElement) || document.querySelector('details[open]')) {
    return;
  }
  const view0 = Object.assign({}, view), shown0 = shown, class0 = el('main').className;
  const ids = view.group ? view.group.ticks.map(function (u) { return u.id; }) : [t.id];
  try {
    shown = take(copy(shown), { kind: 'tick', done: true, ticks: ids });
    follow();
    if (view.kind === 'step') {
      view.group = together(view.tick);
      if (view.group) { view.tick = view.group.ticks[0]; }
      paintStep();
      fitAnew();
    }
  } finally {
    shown = shown0;
    Object.assign(view, view0);
    paintStep();
    el('main').className = class0;
    fitted = fitKey();
  }
}

if (window.ResizeObserver) {
  new ResizeObserver(function () {
    const now = sizeOf(el('main'));
    if (now === size) { return; }
    size = now;
    refit();
  }).observe(el('main'));
}
window.addEventListener('resize', function () { requestAnimationFrame(refit); });

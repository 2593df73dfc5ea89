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

// fitAnew fits what shows now, unless that is what was fitted last: each tick is painted when it
// is touched, when it is kept and when it is told of.
let fitted = '';
function fitAnew() {
  const main = el('main'), t = view.kind === 'step' && view.tick;
  const key = !t ? '' : [t.id, !!view.group, main.clientWidth, main.clientHeight, t.step.box.className]
    .concat(all('.field, .choice, .found, .put, .rows li', t.step.box).filter(function (e) {
      return !e.hidden && e.offsetParent;
    }).map(function (e) { return e.id || e.className; })).join(' ');
  if (key && key === fitted) { return; }
  fitted = key;
  fit();
}

let due = 0;
window.addEventListener('resize', function () {
  cancelAnimationFrame(due);
  due = requestAnimationFrame(fit);
});

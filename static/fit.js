'use strict';
// fit finds the largest type at which the step stands whole on the screen. Beside
// the picture, words take room from each other: the reason why goes first, it is
// still behind "How?". Above it, they take room from the picture.
const besideFits = [
  '', 'no-why', 'no-why fit-1', 'no-why fit-2', 'no-why fit-3', 'no-why fit-3 no-more',
  'no-why fit-3 no-more tight', 'no-why fit-3 no-more tight bare',
  'no-why fit-3 no-more tight bare close'
];
const aboveFits = [
  '', 'fit-1', 'fit-2', 'fit-3', 'aside', 'aside fit-1', 'aside fit-2', 'aside fit-3'
];
const upright = window.matchMedia('(max-aspect-ratio: 1/1)');

// A picture is 600 by 500, its smallest words 34 high: at this scale they are 32 px.
const readable = 0.94;

function fit() {
  const main = el('main');
  main.className = '';
  if (view.kind !== 'step' || document.documentElement.classList.contains('large') ||
    getComputedStyle(main).overflowY === 'visible') {
    return;
  }
  const box = view.tick.step.box;
  const pic = (view.group || view.tick).box.querySelector('.pic');
  // A scroll bar would take room from what is being fitted.
  main.style.overflow = 'hidden';
  const tried = (upright.matches ? aboveFits : besideFits).map(function (name) {
    main.className = name;
    return {
      name: name,
      whole: main.scrollHeight <= main.clientHeight + 1 && box.scrollHeight <= box.clientHeight + 1,
      scale: Math.min(pic.clientWidth / 600, pic.clientHeight / 500)
    };
  });
  const whole = tried.filter(function (f) { return f.whole; });
  let best = whole[0] || tried[tried.length - 1];
  if (upright.matches) {
    best = whole.find(function (f) { return f.scale >= readable; }) ||
      whole.reduce(function (a, b) { return b.scale > a.scale + 0.02 ? b : a; }, best);
  }
  main.className = best.name;
  main.style.overflow = '';
}

let due = 0;
window.addEventListener('resize', function () {
  cancelAnimationFrame(due);
  due = requestAnimationFrame(fit);
});

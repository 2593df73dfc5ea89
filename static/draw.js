'use strict';
// The drawings. The page has those of the step in sight; those of its stage come right after
// it, and of the other stages a little later, or when one is looked at.
const restAfter = 5000;
let drawn = {}; // stages, once their drawings were asked for
let restDue = 0;

function drawStage(stage) {
  if (drawn[stage]) { return; }
  drawn[stage] = true;
  takeDrawings('?stage=' + stage).catch(function () { delete drawn[stage]; });
}

// drawRest asks for all others at once. Where there is a worker it keeps the whole, so all are
// asked for there, for a start without the server.
function drawRest() {
  restDue = 0;
  const has = Object.keys(drawn).join(',');
  takeDrawings(hasWorker() ? '' : '?but=' + has).then(function () {
    steps.forEach(function (s) { drawn[s.stage] = true; });
  }, function () { /* once the server is back */ });
}

function drawAnew() {
  drawn = {};
  drawAgain();
}

// drawAgain asks for what is missing.
function drawAgain() {
  drawStage(view.kind === 'end' ? 'press' : view.stage);
  if (!restDue && steps.some(function (s) { return !drawn[s.stage]; })) {
    restDue = setTimeout(drawRest, restAfter);
  }
}

function takeDrawings(which) {
  return ask(base + '/drawings' + which, {}, textOf).then(function (text) {
    all('[data-of]', new DOMParser().parseFromString(text, 'text/html')).forEach(function (d) {
      d.dataset.of.split(' ').forEach(function (id) {
        const pic = id === 'end' ? el('p-end') : byTick[id] && byTick[id].box.querySelector('.pic');
        if (pic && !pic.firstElementChild) { pic.innerHTML = d.innerHTML; }
      });
    });
    paintPace(); // a group has the picture of its first
  });
}

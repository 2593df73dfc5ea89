'use strict';
// The view is what the person looks at: a step at one of its ticks, the list of a stage,
// or the end. Following, it is where work goes on; else it stays, and nothing changes by it.
const view = { kind: 'step', tick: null, group: null, stage: '', following: true };

function follow() {
  const step = byStep[shown.here] || steps[0];
  view.following = true;
  view.kind = allDone(shown) ? 'end' : 'step';
  view.tick = toTake(step);
  view.stage = step.stage;
}

function look(tick) {
  const group = together(tick);
  view.kind = 'step';
  view.tick = group ? group.ticks[0] : tick;
  view.stage = tick.step.stage;
  view.following = atWork(shown, tick) && tick === atHand(tick);
}

// atHand is the tick itself, or what goes before it while it is put off.
function atHand(tick) { return shown.later[tick.id] ? toTake(tick.step) : tick; }

// settle keeps the view right when the work has moved.
function settle() {
  const t = view.tick;
  if (view.kind !== 'list' && view.following && !(t && atWork(shown, t) && t === atHand(t))) {
    follow();
    if (location.pathname !== base) { history.replaceState(null, '', base); }
  }
  view.group = view.kind === 'step' ? together(view.tick) : null;
  if (view.group) { view.tick = view.group.ticks[0]; }
}

function goTick(tick) {
  const from = view.kind === 'step' && view.tick && view.tick.step;
  look(tick);
  const url = stepPath(tick.step) + '?tick=' + encodeURIComponent(tick.id);
  history[from === tick.step ? 'replaceState' : 'pushState'](null, '', url);
  arrive();
}

function goList(stage) {
  view.kind = 'list';
  view.stage = stage;
  view.following = false;
  history.pushState(null, '', base + '/stage/' + stage);
  arrive();
}

function goWork() {
  follow();
  if (location.pathname !== base) { history.pushState(null, '', base); }
  arrive();
}

// arrive shows the new view and says what it is.
function arrive() {
  all('details[open]').forEach(function (d) { d.open = false; });
  paint();
  const box = view.group ? view.group.box : view.kind === 'step' ? view.tick.box :
    el(view.kind === 'list' ? 'l-' + view.stage : 'end');
  const head = box.querySelector('h1');
  head.focus({ preventScroll: true });
  el('main').scrollTop = 0;
}

// fromAddress is the view that the address names.
function fromAddress() {
  const parts = location.pathname.slice(base.length + 1).split('/');
  // Steps once stood where the other pages do. The server leads on from there; a page
  // that starts without it is met at the old address.
  const step = byStep[parts[0] === 'step' ? parts[1] : parts[0]];
  if (parts[0] === 'stage' && el('l-' + parts[1])) {
    view.kind = 'list';
    view.stage = parts[1];
    view.following = false;
  } else if (step) {
    const asked = byTick[new URLSearchParams(location.search).get('tick')];
    look(asked && asked.step === step ? asked : toTake(step));
  } else {
    follow();
  }
}

window.addEventListener('popstate', function () {
  fromAddress();
  arrive();
});

document.addEventListener('click', function (e) {
  const a = e.target.closest('a');
  if (!a || e.ctrlKey || e.metaKey || e.shiftKey || e.button) { return; }
  let go = null;
  if (a.dataset.tick && byTick[a.dataset.tick]) {
    go = function () {
      alone = a.closest('.step') ? a.dataset.tick : ''; // one was meant
      goTick(byTick[a.dataset.tick]);
    };
  } else if (a.dataset.step && byStep[a.dataset.step]) {
    go = function () { goTick(toTake(byStep[a.dataset.step])); };
  } else if (a.dataset.go === 'back') {
    go = goWork;
  } else if (a.classList.contains('stage')) {
    go = function () { goList(a.dataset.stage); };
  }
  if (!go && !sync.live && leaves(a)) { go = function () { leave(a.href); }; }
  if (go) {
    e.preventDefault();
    go();
  }
});

// leaves is that a link leads off this page.
function leaves(a) {
  return a.origin === location.origin && a.pathname !== location.pathname && !a.target;
}

// leave goes to another page if it can be had. A browser that shows an error instead
// could not come back here while the server is away, and what waits would not be seen.
function leave(address) {
  const here = hasWorker() ?
    caches.match(new URL(address).pathname).catch(function () { return null; }) :
    Promise.resolve(null);
  here.then(function (page) {
    return page ? true : ask('/healthz', {}, saidOf).then(function (res) {
      return res.said.ok; }, function () { return false;
    });
  }).then(function (can) {
    if (can) {
      location.assign(address);
    } else {
      warn('That page needs the server, which is away. Stay here: the work goes on.');
    }
  });
}

// One panel is open at a time; a tap elsewhere or Escape closes it.
document.addEventListener('click', function (e) {
  const inside = e.target.closest('details');
  all('details[open]').forEach(function (d) {
    if (d !== inside || e.target.closest('[data-close]')) { d.open = false; }
  });
});
document.addEventListener('keydown', function (e) {
  if (e.key !== 'Escape') { return; }
  all('details[open]').forEach(function (d) {
    d.open = false;
    d.firstElementChild.focus();
  });
});

'use strict';
// paint makes the page say what is shown. It touches only what differs.
const sync = { live: false };

function paint() {
  paintAct();
  paintRest();
}

// paintAct is what a touch waits for: the act at hand, the last one, the wide button.
function paintAct() {
  settle();
  paintTicks(byStep[shown.here].ticks);
  paintLast();
  paintStep();
  paintBar();
  paintFields();
  fitAnew();
}

function paintRest() {
  paintTicks(ticks);
  paintStages();
  paintSync();
  paintMap();
  paintLists();
  paintRefused();
  foreseeSoon();
  document.dispatchEvent(new Event('painted'));
}

// paintStep puts into sight what the view is of.
function paintStep() {
  paintView();
  paintPace();
  paintLater();
}

function paintTicks(some) {
  some.forEach(function (t) {
    const state = stateOf(shown, t), at = t === view.tick;
    if (t.painted === state && t.at === at) { return; }
    t.painted = state;
    t.at = at;
    t.box.dataset.state = state;
    const name = '#m-' + (t === view.tick && state === 'open' ? 'now' : state);
    mark(t.row.querySelector('.m'), name);
    write(t.row.querySelector('i'), state);
  });
}

function paintStages() {
  const here = byStep[shown.here];
  all('.stage').forEach(function (link) {
    const stage = link.dataset.stage;
    const list = counted(shown, ticks.filter(function (t) { return t.step.stage === stage; }));
    const done = progress(shown, list), now = here && here.stage === stage;
    flag(link, 'data-shown', stage === view.stage);
    const says = done + ' of ' + list.length + now;
    if (link.painted === says) { return; }
    link.painted = says;
    link.dataset.state = done === list.length ? 'done' : 'open';
    write(link.querySelector('i'), done + ' of ' + list.length);
    const thread = link.querySelector('svg');
    thread.setAttribute('viewBox', '0 0 ' + list.length + ' 2');
    thread.firstElementChild.setAttribute('d', 'M0 1H' + done);
    flag(link, 'data-now', now);
    flag(link, 'aria-current', now, 'true');
  });
}

function paintLast() {
  const p = el('last');
  const key = shown.last ? shown.last.op + shown.last.text : '';
  el('undo').hidden = !shown.last;
  el('undo').of.value = shown.last ? shown.last.op : '';
  if (p.dataset.key === key) { return; }
  p.dataset.key = key;
  p.textContent = shown.last ? '' : 'Nothing to undo';
  if (!shown.last) { return; }
  add(p, 'time', clock(shown.last.at));
  p.appendChild(document.createTextNode(' '));
  add(p, 'b', shown.last.text);
}

function clock(at) {
  const t = new Date(at);
  return ('0' + t.getHours()).slice(-2) + ':' + ('0' + t.getMinutes()).slice(-2);
}

function paintSync() {
  const n = waiting.length;
  let state = 'in', word = 'in step';
  if (!sync.live) {
    state = 'away';
    word = n ? 'away, ' + n + ' to send' : 'away';
  } else if (n) {
    state = 'waiting';
    word = 'waiting, ' + n + ' to send';
  }
  const p = el('sync');
  p.dataset.sync = state;
  mark(p.firstElementChild, '#s-' + state);
  write(p.lastElementChild, word);
}

function paintMap() {
  all('#map .q-seam').forEach(function (e) {
    flag(e, 'data-sewn', shown.done[e.getAttribute('data-tick')] === true);
  });
  all('#map a').forEach(function (a) {
    const corner = readCorner(a);
    const is = cornerState(shown, corner);
    a.href = stepPath(byStep[is.step]);
    a.dataset.step = is.step;
    a.dataset.state = is.name;
    write(a.querySelector('i'), is.word);
    flag(a, 'data-now', shown.here === corner.miter || shown.here === corner.press);
  });
}

// readCorner is a corner as the map has it, with the ticks that each state is made by.
function readCorner(a) {
  return {
    miter: a.dataset.miter, press: a.dataset.press,
    by: a.dataset.by.split(';').map(function (row) {
      const part = row.split(' ');
      return { tick: part[0], name: part[1], word: part.slice(2).join(' ') };
    })
  };
}

function paintLists() {
  all('.list [aria-current]').forEach(function (a) { flag(a, 'aria-current', false); });
  if (view.kind !== 'list') { return; }
  all('a', el('l-' + view.stage)).forEach(function (a) {
    const step = byStep[a.dataset.step];
    const is = stepState(shown, step);
    const now = step.id === shown.here;
    a.dataset.state = is.state;
    mark(a.firstElementChild, '#m-' + (now && is.state === 'open' ? 'now' : is.state));
    write(a.lastElementChild, is.word);
    flag(a, 'aria-current', now, 'step');
  });
}

function paintView() {
  const step = view.kind === 'step' ? view.tick.step : null;
  document.body.dataset.view = view.kind;
  document.body.dataset.stage = view.stage;
  drawStage(view.kind === 'end' ? 'press' : view.stage);
  steps.forEach(function (s) {
    if (s.box.hidden === (s === step)) { s.box.hidden = s !== step; }
    const listed = view.kind === 'list' && s.stage === view.stage;
    flag(s.box, 'aria-current', s.id === shown.here && !listed, 'step');
  });
  if (step) {
    const now = view.group ? view.group.ticks : [view.tick];
    const from = step.ticks.indexOf(view.tick) + 1;
    write(step.box.querySelector('.nth'), view.group ? now.length + ' at once' :
      from + ' of ' + step.ticks.length);
    step.ticks.forEach(function (t) { t.box.hidden = !!view.group || t !== view.tick; });
    all('[data-with]', step.box).forEach(function (f) {
      f.hidden = now.indexOf(byTick[f.dataset.with]) < 0 || !asked(f);
    });
    const asks = !!step.box.querySelector('[data-with]:not([hidden])');
    step.box.classList.toggle('asks', asks);
    step.box.classList.toggle('many', all('.field:not([hidden])', step.box).length > 2);
    all('.fields', step.box).forEach(function (f) { f.hidden = !asks; });
  }
  all('section.list').forEach(function (l) {
    l.hidden = view.kind !== 'list' || l.dataset.stage !== view.stage;
  });
  el('end').hidden = view.kind !== 'end';
  flag(document.body, 'data-looking', view.kind === 'step' && !view.following);
  const here = byStep[shown.here];
  write(el('work-at'), step === here ? pick(shown, here).title : here.title);
}

// asked tells whether a field that hangs on another's answer is asked for.
function asked(f) {
  const when = (f.dataset.when || '').split('=');
  return when.length < 2 || shown.values[when[0]] === when[1];
}

function paintFields() {
  // Those of the others are painted once they are looked at.
  const box = view.kind === 'step' ? view.tick.step.box : el('end');
  all('[data-measure]', box).forEach(function (f) {
    if (!f.contains(document.activeElement) && !f.classList.contains('bad') &&
      !f.classList.contains('half')) {
      setValue(f, shown.values[f.dataset.measure] || '');
    }
  });
  all('[data-note]', box).forEach(function (n) {
    const text = shown.notes[n.dataset.note] || '';
    const box = n.closest('details');
    const half = box.classList.contains('half');
    if (n !== document.activeElement && !half && n.value !== text) { n.value = text; }
    flag(box, 'data-noted', text !== '');
    write(box.firstElementChild, half ? 'Note, half written' : text ? 'Note: ' + text : 'Note');
  });
}

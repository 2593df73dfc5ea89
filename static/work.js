'use strict';
// The work: as the server has it, and as it is shown, which is that with what
// waits in the queue done on top.
const work = { rev: 0, here: '', last: null, done: {}, values: {}, notes: {} };
let past = ''; // that the revision counts in: a server that went back begins another
let shown = work;
let ticks = [];  // every tick, in the order of work
let places = []; // every step
let byTick = {};
let byStep = {};
const heard = {}; // ops that the server has told of

// readPage takes the work from the page, which the server has made.
function readPage(page) {
  const d = page.body.dataset;
  work.rev = Number(d.rev);
  past = d.past;
  work.here = d.here;
  const last = page.querySelector('#last');
  const time = last.querySelector('time');
  work.last = d.last ? { op: d.last, text: last.querySelector('b').textContent, at: time.getAttribute('datetime') } : null;
  work.done = {};
  work.values = {};
  work.notes = {};
  ticks = [];
  byTick = {};
  byStep = {};
  places = all('section.step').map(function (section) {
    const step = { id: section.id.slice(2), title: section.dataset.title, stage: section.dataset.stage, box: section };
    byStep[step.id] = step;
    const rows = all('.items li', section);
    const marks = all('.marks .m', section);
    step.ticks = all('article', section).map(function (box, i) {
      const t = {
        id: box.id.slice(2), step: step, box: box, row: rows[i], mark: marks[i],
        title: box.querySelector('h1').textContent, label: box.dataset.label,
        needs: box.dataset.needs ? box.dataset.needs.split(' ') : [], cuts: 'cuts' in box.dataset
      };
      byTick[t.id] = t;
      ticks.push(t);
      if (box.dataset.state === 'done') { work.done[t.id] = true; }
      return t;
    });
    dressFields(section);
    all('[data-measure]', section).forEach(function (f) { work.values[f.dataset.measure] = valueOf(f); });
    work.notes[step.id] = section.querySelector('[data-note]').value;
    return step;
  });
}

function copy(w) {
  return Object.assign({}, w, {
    done: Object.assign({}, w.done), values: Object.assign({}, w.values), notes: Object.assign({}, w.notes)
  });
}

// take does an op, as far as it can be known here.
function take(w, op) {
  const t = byTick[op.tick];
  if (op.kind === 'tick' && t) {
    w.done[t.id] = op.done;
    w.here = op.done ? nextFrom(w, t.step) : t.step.id;
    w.last = { op: op.op, at: Date.now(), text: op.done ? at(t.label, t) : 'Open again: ' + at(lower(t.title), t), tick: t, was: !op.done };
  } else if (op.kind === 'redo' && t) {
    open(w, t);
    w.here = t.step.id;
    w.last = { op: op.op, at: Date.now(), text: 'To do again: ' + at(lower(t.title), t) };
  } else if (op.kind === 'measure') {
    w.values[op.measure] = op.value;
  } else if (op.kind === 'note') {
    w.notes[op.step] = op.text;
  } else if (op.kind === 'here' && byStep[op.step]) {
    w.here = op.step;
  } else if (op.kind === 'undo' && w.last && w.last.op === op.of) {
    if (w.last.tick) {
      w.done[w.last.tick.id] = w.last.was;
      w.here = w.last.tick.step.id;
    }
    w.last = null;
  }
  return w;
}

// at adds the corner, where the tick does not say it.
function at(what, t) {
  const corner = /^Corner \d/.exec(t.step.title);
  return corner ? what + ', ' + lower(corner[0]) : what;
}

function open(w, t) {
  w.done[t.id] = false;
  usersOf(w, t).forEach(function (u) { open(w, u); });
}

// usersOf are the done ticks that need this one.
function usersOf(w, t) {
  return ticks.filter(function (u) { return w.done[u.id] && u.needs.indexOf(t.id) >= 0; });
}

function missingOf(w, t) {
  return t.needs.map(function (id) { return byTick[id]; }).find(function (n) { return n && !w.done[n.id]; });
}

function stateOf(w, t) {
  if (w.done[t.id]) { return 'done'; }
  return missingOf(w, t) ? 'locked' : 'open';
}

// nextFrom is the first step at or after one, going round, with something to do.
function nextFrom(w, step) {
  const from = places.indexOf(step);
  for (let i = 0; i < places.length; i++) {
    const s = places[(from + i) % places.length];
    if (s.ticks.some(function (t) { return stateOf(w, t) === 'open'; })) { return s.id; }
  }
  return step.id;
}

// pick is the tick of a step to look at: the first that can be done, else the
// first that is open, else the last.
function pick(step) {
  const is = function (state) { return step.ticks.find(function (t) { return stateOf(shown, t) === state; }); };
  return is('open') || is('locked') || step.ticks[step.ticks.length - 1];
}

// again works out what is shown, and shows it.
function again() {
  shown = waiting.reduce(function (w, row) { return take(w, row.op); }, copy(work));
  paint();
}

// confirm is the server's yes; its own telling may have come first.
function confirm(op) {
  if (!heard[op.op]) { take(work, op); }
  remember();
}

// hear is what the server tells of an op, anyone's.
function hear(event) {
  if (event.rev <= work.rev) { return; }
  const mine = heard[event.op.op] || waiting.some(function (r) { return r.op.op === event.op.op; });
  const c = event.changed;
  work.rev = event.rev;
  heard[event.op.op] = true;
  if (c.stages || c.sheet || c.plan || c.steps || c.gone) {
    refresh();
    return;
  }
  Object.assign(work.done, c.ticks);
  Object.assign(work.values, c.measures);
  Object.assign(work.notes, c.notes);
  if (c.here) { work.here = c.here; }
  work.last = c.last;
  rememberSoon();
  again();
  if (!mine && c.last) { announce('Elsewhere: ' + c.last.text); }
}

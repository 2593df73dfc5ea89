'use strict';
// The rules of the work, which the server has too: what is locked, where work goes on,
// what a tap does, how the last thing done is told. The page follows them at once and
// without the network. They touch no page: testdata/rules holds them and the server's
// to the same answers.
let steps = []; // in the order of work: {id, title, stage, where, ticks, measures}
let ticks = []; // of all steps: {id, title, label, needs, cuts, passed, step}
let byStep = {};
let byTick = {};
let byMeasure = {}; // {id, label, options, step}; options are words by value, or null

function setSteps(list) {
  steps = list;
  ticks = [];
  byStep = {};
  byTick = {};
  byMeasure = {};
  steps.forEach(function (s) {
    byStep[s.id] = s;
    s.ticks.forEach(function (t) {
      t.step = s;
      byTick[t.id] = t;
      ticks.push(t);
    });
    s.measures.forEach(function (m) {
      m.step = s;
      byMeasure[m.id] = m;
    });
  });
}

function copy(w) {
  return Object.assign({}, w, {
    done: Object.assign({}, w.done),
    values: Object.assign({}, w.values),
    notes: Object.assign({}, w.notes)
  });
}

// take does an op, as far as it can be known here. One that changes nothing is not the
// last thing done.
function take(w, op) {
  const t = byTick[op.tick];
  const m = byMeasure[op.measure];
  const s = byStep[op.step];
  const was = { here: w.here, rows: [] };
  const set = function (part, key, value) {
    const old = w[part][key] || (part === 'done' ? false : '');
    if (old === value) { return; }
    was.rows.push({ part: part, key: key, value: old });
    w[part][key] = value;
  };
  let text = '', here = w.here;
  if (op.kind === 'tick' && t) {
    set('done', t.id, op.done);
    here = op.done ? nextFrom(w, t.step) : t.step.id;
    text = op.done ? at(t.step, t.label) : 'Open again: ' + at(t.step, lower(t.title));
  } else if (op.kind === 'redo' && t) {
    reopened(w, t).forEach(function (u) { set('done', u.id, false); });
    here = t.step.id;
    text = 'To do again: ' + at(t.step, lower(t.title));
  } else if (op.kind === 'measure' && m) {
    set('values', m.id, op.value);
    text = m.step.title + ', ' + lower(m.label) + ': ' + wordOf(m, op.value);
  } else if (op.kind === 'note' && s) {
    set('notes', s.id, op.text);
    text = (op.text ? 'Noted: ' : 'Note taken away: ') + lower(s.title);
  } else if (op.kind === 'here' && s) {
    w.here = s.id;
  } else if (op.kind === 'undo' && w.last && w.last.op === op.of) {
    if (w.last.was) {
      w.last.was.rows.forEach(function (row) { w[row.part][row.key] = row.value; });
      w.here = w.last.was.here;
    }
    w.last = null;
  }
  if (was.rows.length) {
    w.here = here;
    w.last = { op: op.op, at: Date.now(), text: text, was: was };
  }
  return w;
}

// at adds where it was to what was done, if that does not say it.
function at(step, what) { return step.where ? what + ', ' + step.where : what; }

function lower(s) { return s.charAt(0).toLowerCase() + s.slice(1); }

// wordOf is a value as it is told: a choice by its label.
function wordOf(m, value) { return (m.options && m.options[value]) || value || 'taken away'; }

// usersOf are the done ticks that need this one.
function usersOf(w, t) {
  return ticks.filter(function (u) { return w.done[u.id] && u.needs.indexOf(t.id) >= 0; });
}

// reopened are a tick and all done ones that need it, to the last.
function reopened(w, t) {
  const list = [t];
  for (let i = 0; i < list.length; i++) {
    usersOf(w, list[i]).forEach(function (u) { if (list.indexOf(u) < 0) { list.push(u); } });
  }
  return list;
}

// lockOf is the first tick that is missing; undefined when none is.
function lockOf(w, t) {
  return t.needs.map(function (id) {
    return byTick[id]; }).find(function (n) { return n && !w.done[n.id];
  });
}

function stateOf(w, t) {
  if (w.done[t.id]) { return 'done'; }
  return lockOf(w, t) ? 'locked' : 'open';
}

// progress is how many of some ticks are done.
function progress(w, list) { return list.filter(function (t) { return w.done[t.id]; }).length; }

// counted are the ticks that count: one that the work went on without does not, while open.
function counted(w, list) {
  return list.filter(function (t) { return w.done[t.id] || !t.passed; });
}

function allDone(w) { return progress(w, ticks) === counted(w, ticks).length; }

// stepState is how far a step is, and that in words.
function stepState(w, step) {
  const list = counted(w, step.ticks);
  const first = list.find(function (t) { return !w.done[t.id]; });
  if (!first) { return { state: 'done', word: 'done' }; }
  if (list.some(function (t) { return stateOf(w, t) === 'open'; })) {
    return { state: 'open', word: progress(w, list) + ' of ' + list.length };
  }
  return { state: 'locked', word: 'not yet: first ' + lower(lockOf(w, first).title) };
}

// nextFrom is the first step at or after one, going round, with something to do.
function nextFrom(w, step) {
  const from = steps.indexOf(step);
  for (let i = 0; i < steps.length; i++) {
    const s = steps[(from + i) % steps.length];
    const open = counted(w, s.ticks).some(function (t) { return stateOf(w, t) === 'open'; });
    if (open) { return s.id; }
  }
  return step.id;
}

// pick is the tick of a step to look at: the first that can be done, else the
// first that is open, else the last.
function pick(w, step) {
  const is = function (state) {
    return step.ticks.find(function (t) { return stateOf(w, t) === state; });
  };
  return is('open') || is('locked') || step.ticks[step.ticks.length - 1];
}

// modeOf is what the wide button does at a tick: tick, hereon, locked, done.
function modeOf(w, t) {
  const state = stateOf(w, t);
  return state !== 'open' ? state : t.step.id === w.here ? 'tick' : 'hereon';
}

// atWork is whether a tick is where work goes on, and not only looked at.
function atWork(w, t) {
  return t.step.id === w.here && !allDone(w) && (stateOf(w, t) === 'open' || t === pick(w, t.step));
}

// cornerState is how far a corner is, in words too, and the step that a tap leads to: its
// miter until that is trimmed, then its pressing.
function cornerState(w, corner) {
  let now = { name: 'open', word: 'open' };
  corner.by.forEach(function (state) { if (w.done[state.tick]) { now = state; } });
  const trimmed = now.name === 'trimmed' || now.name === 'pressed';
  return { name: now.name, word: now.word, step: trimmed ? corner.press : corner.miter };
}

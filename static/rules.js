'use strict';
// The rules of the work, which the server has too: what is locked, where work goes on,
// what a tap does, how the last thing done is told. The page follows them at once and
// without the network. They touch no page: testdata/rules holds them and the server's
// to the same answers.
let steps = []; // in the order of work: {id, title, stage, where, ticks, groups, measures}
let ticks = []; // of all steps: {id, title, label, needs, cuts, group, passed, step}
let byStep = {};
let byTick = {};
let byMeasure = {}; // {id, label, options, tick, expect, step}; options: words by value, or null

function setSteps(list) {
  steps = list;
  ticks = [];
  byStep = {};
  byTick = {};
  byMeasure = {};
  let stages = 0;
  steps.forEach(function (s, i) {
    if (i && s.stage !== steps[i - 1].stage) { stages++; }
    s.nth = stages;
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
    later: Object.assign({}, w.later),
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
  const mark = function (list, done) {
    list = list.filter(function (u) { return Boolean(w.done[u.id]) !== done; });
    const told = list.length ? done ? labelOf(w, list) : 'Open again: ' + more(list) : '';
    list.forEach(function (u) {
      set('done', u.id, done);
      set('later', u.id, '');
    });
    const last = list[list.length - 1];
    if (last) { here = done ? nextFrom(w, last.step) : last.step.id; }
    return told;
  };
  if (op.kind === 'tick') {
    text = mark((op.ticks || [op.tick]).map(function (id) { return byTick[id]; }).filter(Boolean),
      op.done);
  } else if (op.kind === 'later' && t && !w.done[t.id]) {
    set('later', t.id, op.why || '');
    const on = op.why ? roundFrom(t.step).find(function (s) { return canGoOn(w, s, false); }) : t.step;
    if (on) { here = on.id; }
    text = (op.why ? 'Put off: ' : 'Taken up again: ') + at(t.step, lower(t.title));
  } else if (op.kind === 'redo' && t) {
    reopened(w, t).forEach(function (u) { set('done', u.id, false); });
    here = t.step.id;
    text = 'To do again: ' + at(t.step, lower(t.title));
  } else if (op.kind === 'measure' && m) {
    const had = w.values[m.id] || '';
    set('values', m.id, op.value);
    const did = op.done && byTick[m.tick] && doneBy(w, byTick[m.tick]) ? mark([byTick[m.tick]], true) : '';
    text = had === op.value ? did : m.step.title + ', ' + lower(m.label) + ': ' + wordOf(m, op.value);
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

// labelOf is what ticks that are done at once are called: by their group, where they are all
// that was open of it.
function labelOf(w, list) {
  const step = list[0].step;
  const g = list.length > 1 && step.groups.find(function (g) { return g.id === list[0].group; });
  const all = g && step.ticks.filter(function (u) {
    return u.group === g.id && !w.done[u.id] && !u.passed;
  });
  const whole = all && list.every(function (u) { return u.step === step && u.group === g.id; }) &&
    all.every(function (u) { return list.indexOf(u) >= 0; });
  if (whole) { return at(step, g.label); }
  return at(step, list[0].label) + andMore(list);
}

function more(list) {
  const last = list[list.length - 1];
  return at(last.step, lower(last.title)) + andMore(list);
}

function andMore(list) { return list.length > 1 ? ', and ' + (list.length - 1) + ' more' : ''; }

// doneBy tells whether what is measured does its tick at once: each value is what the plan
// says. Of any other the server says whether it is hard to believe first.
function doneBy(w, t) {
  return stateOf(w, t) === 'open' && !t.cuts && t.step.measures.every(function (m) {
    return m.tick !== t.id || (m.expect && w.values[m.id] === m.expect);
  });
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
    const put = list.filter(function (t) { return w.later[t.id]; }).length;
    return { state: 'open', word: progress(w, list) + ' of ' + list.length +
      (put ? ', ' + put + ' put off' : '') };
  }
  return { state: 'locked', word: 'not yet: first ' + lower(lockOf(w, first).title) };
}

// nextFrom is the first step at or after one, going round, with something to do. What is put
// off is passed over, and comes back before its stage is left.
function nextFrom(w, step) {
  const order = roundFrom(step);
  const first = order.find(function (s) { return canGoOn(w, s, false); });
  const put = first && first.stage === step.stage ? null : order.find(function (s) {
    return (!first || s.nth <= step.nth) && canGoOn(w, s, true);
  });
  return (put || first || step).id;
}

function roundFrom(step) {
  const from = steps.indexOf(step);
  return steps.slice(from).concat(steps.slice(0, from));
}

// canGoOn tells whether a step has something to do: that is put off, or that is not.
function canGoOn(w, step, putOff) {
  return counted(w, step.ticks).some(function (t) {
    return stateOf(w, t) === 'open' && Boolean(w.later[t.id]) === putOff;
  });
}

// pick is the tick of a step to look at: the first that can be done, else the first that is
// put off, else the first that is open, else the last.
function pick(w, step) {
  const is = function (state, putOff) {
    return step.ticks.find(function (t) {
      return stateOf(w, t) === state && (putOff || !w.later[t.id]);
    });
  };
  return is('open') || is('open', true) || is('locked', true) || step.ticks[step.ticks.length - 1];
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

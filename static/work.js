'use strict';
// The work: as the server has it, and as it is shown, which is that with what
// waits in the queue done on top.
const work = { rev: 0, here: '', last: null, done: {}, later: {}, values: {}, notes: {} };
let past = ''; // that the revision counts in: a server that went back begins another
let shown = work;
const heard = {}; // ops that the server has told of

// readPage takes the work from the page, which the server has made.
function readPage(page) {
  const d = page.body.dataset;
  work.rev = Number(d.rev);
  past = d.past;
  work.here = d.here;
  const last = page.querySelector('#last');
  const time = last.querySelector('time');
  work.last = !d.last ? null :
    { op: d.last, text: last.querySelector('b').textContent, at: time.getAttribute('datetime') };
  work.done = {};
  work.later = {};
  work.values = {};
  work.notes = {};
  setSteps(all('section.step').map(function (section) {
    dressFields(section);
    listTicks(section);
    const rows = all('.items li', section);
    const step = {
      id: section.id.slice(2), title: section.dataset.title, stage: section.dataset.stage,
      where: section.dataset.where || '', box: section,
      groups: all('.group', section).map(function (box) {
        return { id: box.id.slice(2), label: box.dataset.label, box: box };
      }),
      ticks: all('.tick', section).map(function (box, i) {
        return {
          id: box.id.slice(2), title: box.querySelector('h1').textContent, label: box.dataset.label,
          needs: box.dataset.needs ? box.dataset.needs.split(' ') : [], cuts: 'cuts' in box.dataset,
          passed: 'passed' in box.dataset, group: box.dataset.group || '', as: box.dataset.as,
          box: box, row: rows[i]
        };
      }),
      measures: all('[data-measure]', section).map(readMeasure)
    };
    step.ticks.forEach(function (t) {
      work.done[t.id] = t.box.dataset.state === 'done';
      work.later[t.id] = t.box.dataset.later || '';
    });
    step.measures.forEach(function (m) { work.values[m.id] = valueOf(m.box); });
    work.notes[step.id] = section.querySelector('[data-note]').value;
    return step;
  }));
}

// listTicks lists the ticks of a step, as the server does for the one that shows.
function listTicks(section) {
  const list = section.querySelector('.items ol');
  if (list.firstElementChild) { return; }
  const sign = el('sync').firstElementChild;
  all('.tick', section).forEach(function (box) {
    const a = add(add(list, 'li', ''), 'a', box.querySelector('h1').textContent + ' ');
    a.dataset.tick = box.id.slice(2);
    a.href = stepPath({ id: section.id.slice(2) }) + '?tick=' + a.dataset.tick;
    add(a, 'i', '');
    a.insertBefore(sign.cloneNode(true), a.firstChild);
  });
}

function readMeasure(box) {
  const label = box.querySelector('legend, label').textContent;
  const m = {
    id: box.dataset.measure, label: label, box: box, options: null, tick: box.dataset.with,
    expect: box.dataset.expect
  };
  if (box.tagName === 'FIELDSET') {
    m.options = {};
    all('label', box).forEach(function (l) {
      m.options[l.querySelector('input').value] = l.querySelector('span').textContent;
    });
  }
  return m;
}

// again works out what is shown, and shows it.
function again(how) {
  shown = waiting.reduce(function (w, row) { return take(w, row.op); }, copy(work));
  (how || paint)();
}

// confirm is the server's yes; its own telling may have come first.
function confirm(op) {
  if (!heard[op.op]) { take(work, op); }
  heard[op.op] = true; // it is no news from elsewhere
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
  Object.assign(work.later, c.later);
  Object.assign(work.values, c.measures);
  Object.assign(work.notes, c.notes);
  if (c.here) { work.here = c.here; }
  work.last = c.last;
  rememberSoon();
  again();
  if (!mine && c.last) { announce('Elsewhere: ' + c.last.text); }
}

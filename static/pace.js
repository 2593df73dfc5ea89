'use strict';
// The pace of this device: each act by itself, or at once what belongs together. The work knows
// nothing of it: the ticks are the same.
let practiced = false;
let alone = ''; // the id of the tick of a group that was asked for by itself
try { practiced = localStorage.getItem('pace') === 'practiced'; } catch (e) { /* each act, then */ }

function setPace(on) {
  practiced = on;
  alone = '';
  try {
    if (on) { localStorage.setItem('pace', 'practiced'); } else { localStorage.removeItem('pace'); }
  } catch (e) { /* for this page only, then */ }
}

// groupOf is the group of a tick with what is open of it, where all of that can be taken at
// once; else null.
function groupOf(t) {
  const g = t.step.groups.find(function (g) { return g.id === t.group; });
  const list = g ? t.step.ticks.filter(function (u) {
    return u.group === g.id && !shown.done[u.id] && !u.passed;
  }) : [];
  const can = list.length > 1 && list.indexOf(t) >= 0 && list.every(function (u) {
    return u.needs.every(function (id) {
      return shown.done[id] || !byTick[id] || list.indexOf(byTick[id]) >= 0;
    });
  });
  return can ? { id: g.id, label: g.label, box: g.box, ticks: list } : null;
}

// together is the group that shows in the place of a tick, at this pace.
function together(t) { return practiced && t.id !== alone ? groupOf(t) : null; }

// toTake is the tick of a step to look at, at this pace: what is a part of more comes when all
// of that can be taken.
function toTake(step) {
  const first = pick(shown, step);
  if (!practiced || !first.group || together(first)) { return first; }
  return step.ticks.find(function (t) {
    return stateOf(shown, t) === 'open' && !shown.later[t.id] && (!t.group || together(t));
  }) || first;
}

// doneBefore tells whether a group like this one was done before: what was done once act by act may
// be taken at once.
function doneBefore(g) {
  const names = function (list) { return list.map(function (t) { return t.as; }).join(); };
  return steps.some(function (s) {
    return s.stage === g.ticks[0].step.stage && s.groups.some(function (other) {
      const list = s.ticks.filter(function (t) { return t.group === other.id; });
      return other.id !== g.id && list.every(function (t) { return shown.done[t.id]; }) &&
        names(list) === names(g.ticks);
    });
  });
}

function paintPace() {
  const t = view.kind === 'step' ? view.tick : null;
  const g = t && groupOf(t);
  all('.group').forEach(function (box) { box.hidden = !view.group || box !== view.group.box; });
  if (view.group) { dressGroup(view.group); }
  if (!t) { return; }
  t.step.box.classList.toggle('grouped', !!view.group);
  const b = t.step.box.querySelector('.pace');
  if (!b) { return; }
  b.hidden = !g || !practiced && !doneBefore(g);
  write(b, view.group ? 'One by one' : 'All at once');
}

// dressGroup shows a group's numbers, each with what it is for, or once where all are alike; the
// gravest of its cautions; what each act's How? tells; and the picture of its first act.
function dressGroup(g) {
  const key = g.ticks.map(function (t) { return t.id; }).join(' ');
  if (g.box.dataset.key === key && g.box.querySelector('.pic').firstElementChild) { return; }
  g.box.dataset.key = key;
  const rows = g.box.querySelector('.rows');
  const numbers = g.ticks.map(function (t) { return t.box.querySelector('.num'); });
  const first = numbers[0] && numbers[0].textContent;
  const alike = numbers.every(function (n) { return n && n.textContent === first; });
  rows.textContent = '';
  rows.hidden = alike;
  g.ticks[0].step.box.classList.toggle('rowed', !alike);
  rows.classList.toggle('wide', numbers.some(function (n) {
    return n && n.classList.contains('two');
  }));
  // What has the same number is told once.
  const cells = {};
  g.ticks.forEach(function (t, i) {
    const key = numbers[i] ? numbers[i].textContent : '';
    if (cells[key]) {
      cells[key].textContent += ', ' + lower(t.as);
      return;
    }
    const a = add(add(rows, 'li', ''), 'a', '');
    a.href = stepPath(t.step) + '?tick=' + t.id;
    a.dataset.tick = t.id;
    cells[key] = add(a, 'span', t.as);
    if (numbers[i]) { a.appendChild(numbers[i].cloneNode(true)); }
  });
  all('.worked, .caution, .how', g.box).forEach(function (c) { c.parentNode.removeChild(c); });
  if (alike) { g.box.insertBefore(numbers[0].parentNode.cloneNode(true), rows); }
  const cautions = g.ticks.map(function (t) { return t.box.querySelector('.caution'); })
    .filter(Boolean);
  const told = cautions.reverse().find(function (c) { return !c.classList.contains('NOTICE'); }) ||
    cautions[0]; // a person goes before fabric, the needle before the pins
  if (told) { g.box.insertBefore(told.cloneNode(true), g.box.firstChild); }
  g.box.appendChild(howOf(g));
  g.box.querySelector('.pic').innerHTML = g.ticks[0].box.querySelector('.pic').innerHTML;
}

// howOf tells what each act tells, what they have alike once.
function howOf(g) {
  const how = g.ticks[0].box.querySelector('.how').cloneNode(true);
  const over = how.querySelector('.over'), told = {};
  how.open = false;
  over.textContent = '';
  g.ticks.forEach(function (t) {
    all('.how .over > p', t.box).forEach(function (p) {
      if (!told[p.textContent]) { over.appendChild(p.cloneNode(true)); }
      told[p.textContent] = true;
    });
  });
  return how;
}

function startPace() {
  el('main').addEventListener('click', function (e) {
    if (!e.target.classList.contains('pace')) { return; }
    setPace(!view.group);
    if (practiced) { look(view.tick); }
    arrive();
    announce(practiced ? 'At once: what belongs together.' : 'One by one: each act by itself.');
  });
}

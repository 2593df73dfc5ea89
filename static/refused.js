'use strict';
// What the server did not take. Each is kept, over a reload too, with the reason,
// until the person has chosen: send it again, look at it, or leave it out.
const noOf = 'no:' + session + ':';
const refused = stored(noOf).map(function (row) {
  return { key: row.key, op: row.value.op, status: row.value.status, error: row.value.error };
});

function refuse(sent, status, error) {
  // Its key is that of what was sent: two tabs that are told at once keep it once.
  const op = sent.op;
  const row = { key: noOf + sent.key.slice(keyOf.length), op: op, status: status, error: error };
  store(row.key, { op: op, status: status, error: error });
  if (!refused.some(function (known) { return known.key === row.key; })) { refused.push(row); }
  if (!heard[op.op]) { catchUp(); }
  again();
  if (op.kind === 'measure' && faultOn(row, false)) { return; }
  if (error.code === 'look-first' && byTick[op.tick]) {
    askReason('It is not right yet', error.message, 'Trim it all the same', function (text) {
      send({ kind: 'tick', tick: op.tick, done: true, why: text });
    });
    return;
  }
  el('refused').open = true;
  announce('Not taken: ' + told(op) + '. ' + error.message);
}

function leaveOut(row) {
  const at = refused.indexOf(row);
  if (at >= 0) { refused.splice(at, 1); }
  unstore(row.key);
}

// Another tab of the session shows the same.
window.addEventListener('storage', function (e) {
  if (!e.key || e.key.indexOf(noOf) !== 0) { return; }
  const known = refused.find(function (row) { return row.key === e.key; });
  const row = e.newValue !== null && readStored(e.key, noOf);
  if (known && e.newValue === null) { refused.splice(refused.indexOf(known), 1); }
  if (row && !known) {
    const v = row.value;
    refused.push({ key: row.key, op: v.op, status: v.status, error: v.error });
  }
  paintRefused();
});

// overtake leaves out what the new op says anew.
function overtake(op) {
  refused.filter(function (row) {
    return row.op.kind === op.kind && String(ticksOf(row.op)) === String(ticksOf(op)) &&
      row.op.measure === op.measure && row.op.step === op.step;
  }).forEach(leaveOut);
}

// ticksOf are the ticks of an op.
function ticksOf(op) { return op.ticks || [op.tick]; }

// granted is that the work stands by now as the op wanted it.
function granted(op) {
  return (op.kind === 'tick' && ticksOf(op).every(function (id) {
    return byTick[id] && Boolean(shown.done[id]) === op.done;
  })) ||
    (op.kind === 'measure' && op.measure in shown.values &&
      shown.values[op.measure] === op.value) ||
    (op.kind === 'note' && op.step in shown.notes && shown.notes[op.step] === op.text);
}

// told is an op in words.
function told(op) {
  const t = byTick[ticksOf(op)[0]];
  const step = byStep[op.step];
  const m = byMeasure[op.measure];
  if (!t && ['tick', 'later', 'redo'].indexOf(op.kind) >= 0) {
    return 'A tick that is no longer in the plan';
  }
  switch (op.kind) {
  case 'tick':
    return (op.done ? t.label : 'Open again: ' + lower(t.title)) +
      andMore(ticksOf(op)) + ' · ' + t.step.title;
  case 'later': return 'Put off: ' + lower(t.title) + ' · ' + t.step.title;
  case 'redo': return 'To do again: ' + lower(t.title) + ' · ' + t.step.title;
  case 'measure': return (m ? m.label : 'A measure') + ': ' + (op.value || 'nothing');
  case 'note': return 'Note' + (step ? ' on ' + step.title : '') + ': ' + op.text;
  case 'here': return 'Go on' + (step ? ' at ' + step.title : ' elsewhere');
  case 'undo': return 'Undo';
  }
  return 'A change';
}

// tickToSee is where to look for an op's trouble.
function tickToSee(op) {
  const f = op.measure && el('f-' + op.measure);
  const step = byStep[op.step] || (f && byStep[f.closest('section.step').id.slice(2)]);
  return byTick[ticksOf(op)[0]] || (f && byTick[f.dataset.with]) || (step && pick(shown, step)) || null;
}

// faultOn writes the reason beside the field, with what was entered; false when
// the field is not in sight and need not be.
function faultOn(row, anyway) {
  const f = el('f-' + row.op.measure);
  if (!f || !(anyway || (f.getClientRects().length && valueOf(f).trim() === row.op.value))) {
    return false;
  }
  setValue(f, row.op.value);
  f.classList.add('bad');
  write(f.querySelector('.fault'), row.error.message);
  return true;
}

function paintRefused() {
  refused.filter(function (row) { return granted(row.op); }).forEach(leaveOut);
  const box = el('refused');
  const key = refused.map(function (row) { return row.key; }).join(' ');
  if ((box.dataset.key || '') === key) { return; }
  box.dataset.key = key;
  rest(); // a tap that comes now meant the list as it was
  box.hidden = !refused.length;
  write(box.firstElementChild, refused.length + ' not taken');
  const list = box.querySelector('ol');
  list.textContent = '';
  refused.forEach(function (row) { offerChoices(row, add(list, 'li', '')); });
  el('refused-all').hidden = refused.length < 2;
}

function offerChoices(row, item) {
  add(item, 'b', told(row.op));
  add(item, 'p', row.error.message);
  const choices = add(item, 'div', '');
  choices.className = 'choose';
  const offer = function (words) {
    const b = add(choices, 'button', words);
    b.type = 'button';
    b.dataset.refused = row.key;
  };
  if (tickToSee(row.op)) { offer('Look'); }
  if (row.error.code === 'in-use' && byTick[row.op.tick]) {
    offer('Open all that need it');
  } else if (mayGo(row)) {
    offer('Send again');
  }
  offer('Leave out');
}

// mayGo is whether the same could be taken another time: what is wrong in itself
// can't, nor the undo of what is no longer the last thing done; and a cut whose number
// changed, or whose look did not pass, has to be looked at anew.
function mayGo(row) {
  const code = row.error.code;
  return row.status !== 422 && row.status !== 400 && row.op.kind !== 'undo' &&
    code !== 'number-changed' && code !== 'look-first';
}

// resend sends what was meant as a new op: the server keeps its answer to the old.
function resend(row) {
  leaveOut(row);
  const op = Object.assign({}, row.op);
  delete op.op;
  send(op);
}

function startRefused() {
  el('refused').addEventListener('click', function (e) {
    if (e.target.tagName !== 'BUTTON') { return; }
    // The item goes with its choice: what is tapped next must not be the one that
    // slid into its place, nor the button that was behind the list.
    e.stopPropagation();
    if (!rested()) { return; }
    const row = refused.find(function (r) { return r.key === e.target.dataset.refused; });
    choose(row, e.target.textContent);
    again();
    if (!refused.length) { el('main').focus(); }
  });
}

function choose(row, words) {
  if (words === 'Send all again') {
    refused.filter(mayGo).forEach(resend);
  } else if (words === 'Leave all out') {
    refused.slice().forEach(leaveOut);
  } else if (!row) {
    return;
  } else if (words === 'Send again') {
    resend(row);
  } else if (words === 'Leave out') {
    leaveOut(row);
  } else if (words === 'Look') {
    goTick(tickToSee(row.op));
    if (row.op.kind === 'measure') { faultOn(row, true); }
  } else {
    leaveOut(row);
    askRedo(byTick[row.op.tick], usersOf(shown, byTick[row.op.tick]));
  }
}

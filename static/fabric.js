'use strict';
// A photo of a border's fabric, from the camera to the plan: a dialog over the form, in stages
// with one thing to do each. It comes when it is asked for (form.js). The photo is drawn to a
// canvas, and that is what is shown, touched and sent; so nothing goes along that the picture
// does not show.

// What is known of the fabric in hand; one that was begun is kept until the page goes.
let fabric = null;
const begun = {}; // by border

function newFabric(border, took) {
  return {
    border: border, took: took, // the swatch that the form has, '' for none
    unit: unitNow(), stage: 0,
    canvas: null, blob: null, id: '',
    sheet: unitNow() === 'in' ? 'letter' : 'a4', sides: ['', ''], along: 'right',
    corners: [null, null, null, null], // as touched
    found: null, looked: '', asked: '', // the last answer, and to what
    repeats: { along: '', across: '' },
    start: 0, cut: 0, middles: null, match: true, buys: ''
  };
}

function inputOf(name) {
  return document.getElementsByName('borders[' + (fabric.border - 1) + '].' + name)[0];
}

// headsNow is where the heads of its print point on the quilt; '' where it may lie either way.
function headsNow() {
  return inputOf('fabric.way').value === 'one-way' ? inputOf('fabric.heads').value : '';
}

// made makes an element with attributes and what is in it.
function made(tag, attributes, inside) {
  const node = document.createElement(tag);
  Object.keys(attributes || {}).forEach(function (a) {
    if (attributes[a] !== null) { node.setAttribute(a, attributes[a]); }
  });
  [].concat(inside === undefined ? [] : inside).forEach(function (i) {
    node.appendChild(typeof i === 'string' ? document.createTextNode(i) : i);
  });
  return node;
}

function drawn(parent, tag, attributes) {
  const node = document.createElementNS('http://www.w3.org/2000/svg', tag);
  Object.keys(attributes).forEach(function (a) { node.setAttribute(a, attributes[a]); });
  return parent.appendChild(node);
}

function pictureIn(parent, address, attributes) {
  const node = drawn(parent, 'image', attributes);
  node.setAttributeNS('http://www.w3.org/1999/xlink', 'href', address);
  return node;
}

// A button of a stage.
function press(text, does, attributes) {
  const b = made('button', Object.assign({ type: 'button' }, attributes), text);
  b.addEventListener('click', does);
  return b;
}

// choice is a row of buttons of which one is pressed.
function choice(label, ways, now, chosen) {
  const row = made('div', { class: 'ways', role: 'group', 'aria-label': label });
  ways.forEach(function (way) {
    row.appendChild(press(way.shows, function () {
      all('button', row).forEach(function (b) {
        b.setAttribute('aria-pressed', String(b === this));
      }, this);
      chosen(way.is);
    }, { 'aria-pressed': String(way.is === now), 'data-way': way.is }));
  });
  return row;
}

// The dialog's frame.
const stages = []; // filled by the other files, in their order
let stageAt = 0;
const frame = (function () {
  const title = made('h2', { id: 'fabric-title', tabindex: '-1' });
  const step = made('p', { class: 'count' });
  const room = made('div', { class: 'room' });
  const said = made('p', { class: 'said', role: 'status' });
  const fault = made('p', { class: 'fault', role: 'alert' });
  const back = press('Back', goBack, { id: 'fabric-back' });
  const next = press('Next', goOn, { id: 'fabric-next', class: 'next' });
  const box = made('div', { id: 'fabric', role: 'dialog', 'aria-modal': 'true',
    'aria-labelledby': 'fabric-title', hidden: '' }, made('div', { class: 'whole' }, [
    made('div', { class: 'head' }, [title, step,
      made('button', { type: 'button', 'data-cancel': '' }, 'Close')]),
    room, said, fault, made('div', { class: 'foot' }, [back, next])
  ]));
  document.body.appendChild(box);
  return { box: box, title: title, step: step, room: room, said: said, fault: fault, back: back,
    next: next };
}());

const fabricDialog = dialogOf(frame.box, function () {
  document.body.classList.remove('under');
  const border = document.getElementById('border-' + fabric.border);
  return border && border.querySelector('[data-photo]') || document.querySelector('h1');
});

function tell(text) { write(frame.said, text || ''); }
function scold(text) { write(frame.fault, text || ''); }

// busy says what is waited for; the buttons wait with it.
function busy(text) {
  tell(text);
  frame.next.disabled = frame.back.disabled = !!text;
  frame.box.classList.toggle('busy', !!text);
  if (!text) { ready(); }
}

// ready lets go on where the stage has what it asks for.
function ready() {
  const stage = stages[stageAt];
  frame.next.disabled = !stage.ready();
  write(frame.next, stage.next());
}

function showStage(n, said) {
  stageAt = fabric.stage = n;
  const stage = stages[n];
  write(frame.title, stage.title);
  write(frame.step, (n + 1) + ' of ' + stages.length);
  frame.room.textContent = '';
  frame.room.className = 'room ' + stage.name;
  frame.box.dataset.stage = stage.name;
  frame.box.classList.remove('busy');
  frame.back.hidden = n === 0;
  scold('');
  tell(said);
  frame.back.disabled = false;
  stage.show(frame.room);
  ready();
  frame.room.scrollTop = 0;
  frame.title.focus({ preventScroll: true });
}

function goBack() { showStage(stageAt - 1); }

// goOn does what the stage has to do, and shows the next one when that is done.
function goOn() {
  const at = stageAt;
  const p = fabric;
  scold('');
  const doing = stages[at].done();
  if (doing === true) { showStage(at + 1); return; }
  if (!doing) { return; }
  doing.then(function () {
    if (fabric !== p || stageAt !== at) { return; } // another one is open by now
    busy('');
    if (!frame.box.hidden && at + 1 < stages.length) { showStage(at + 1); }
  }).catch(function (failed) {
    if (!failed || !failed.said) { throw failed; }
    if (failed.field === 'photo') { p.id = ''; } // it is sent again
    if (fabric !== p || stageAt !== at) { return; }
    busy('');
    scold(failed.said);
    if (failed.away) { write(frame.next, stages[at].again); }
  });
}

// lookAgain asks the server, once for the same; the answer is kept. Repeats that were settled are
// of the sheet as it was touched then.
function lookAgain() {
  const p = fabric;
  const looked = JSON.stringify([p.id, p.sheet, p.sides, p.along, p.corners, unitNow()]);
  if (p.looked && p.looked !== looked) {
    p.repeats = { along: '', across: '' };
    p.slid = false;
  }
  p.looked = looked;
  const asked = looked + JSON.stringify(p.repeats);
  if (p.found && p.asked === asked) { return Promise.resolve(p.found); }
  return askFlat(p).then(function (found) {
    p.found = found;
    p.asked = asked;
    return found;
  });
}

// fit gives a picture the size that its room has.
function fitIn(node, room, w, h) {
  const to = Math.min(room.clientWidth / w, room.clientHeight / h);
  node.style.width = Math.floor(w * to) + 'px';
  node.style.height = Math.floor(h * to) + 'px';
  return to;
}

window.addEventListener('resize', function () {
  if (!frame.box.hidden && stages[stageAt].fit) { stages[stageAt].fit(); }
});

// openFabric opens the dialog for a border of the form: where it was left, or, where the form has a
// photo that was chosen before, at the corners of that.
window.openFabric = function (border) {
  fabric = { border: border };
  const took = inputOf('photo').value;
  const kept = begun[border];
  document.body.classList.add('under');
  if (kept && kept.took === took && kept.unit === unitNow()) {
    fabric = kept;
    if (took) { fabric.cut = 0; } // what the form has by now
    fabricDialog.open(frame.title);
    showStage(kept.stage || 0);
    return;
  }
  fabric = begun[border] = newFabric(border, took);
  fabricDialog.open(frame.title);
  showStage(0);
  if (took) { openTaken(took); }
};

// openTaken goes on from a swatch that was chosen before.
function openTaken(swatch) {
  const p = fabric;
  busy('The photo is fetched.');
  call('GET', '/' + swatch + '/asked').then(function (was) {
    const a = was.asked;
    p.id = was.photo;
    p.along = a.along;
    p.corners = a.corners;
    p.repeats = a.repeats;
    if (typeof a.sheet === 'string') {
      p.sheet = a.sheet;
    } else {
      p.sheet = 'other';
      p.sides = [a.sheet.width, a.sheet.length];
    }
    return readPicture('/api/v1/photos/' + p.id);
  }).then(function (picture) {
    p.canvas = canvasOf(picture);
    return lookAgain();
  }).then(function () {
    if (fabric !== p) { return; }
    busy('');
    showStage(stages.length - 2);
  }).catch(function (failed) {
    if (fabric !== p) { return; }
    busy('');
    scold(failed.said || noAnswer);
  });
}


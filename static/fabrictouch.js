'use strict';
// What lies on the fabric, and where its corners are in the photo.
const sheetNames = { letter: 'Letter paper, 8 1/2 × 11 in', a4: 'A4 paper, 21 × 29.7 cm',
  other: 'Another size' };

// wayPicture is a photo in small with a strip on it.
function wayPicture(down) {
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  svg.setAttribute('viewBox', '0 0 48 40');
  svg.setAttribute('aria-hidden', 'true');
  drawn(svg, 'rect', { class: 'wp', x: 1, y: 1, width: 46, height: 38 });
  drawn(svg, 'path', { class: 'ws', d: down ? 'M17 1h14v38H17z' : 'M1 13h46v14H1z' });
  drawn(svg, 'path', { class: 'wa',
    d: down ? 'M24 8v22m-5-6l5 6 5-6' : 'M10 20h27m-6-5l6 5-6 5' });
  return svg;
}

stages.push({
  name: 'sheet', title: 'What lies on it', again: 'Next',
  next: function () { return 'Next'; },
  ready: function () {
    return fabric.sheet !== 'other' || fabric.sides.every(function (s) {
      return readLength(s) > 0;
    });
  },
  show: function (room) {
    const p = fabric;
    const sides = made('div', { class: 'sides', hidden: '' });
    ['Its width, from corner 1 to 2', 'Its length, from corner 2 to 3'].forEach(function (label, i) {
      const id = 'fabric-side-' + i;
      const input = made('input', { id: id, autocomplete: 'off', value: p.sides[i] });
      input.addEventListener('input', function () { p.sides[i] = input.value; ready(); });
      sides.appendChild(made('div', { class: 'field' }, [made('label', { for: id }, label), input]));
    });
    const inner = made('p', { class: 'hint' });
    function tellInner(along) {
      const side = along === 'down' ? 'right side' : 'top';
      const heads = headsNow();
      write(inner, heads === 'up' ? 'The heads point to the photo\'s top, and up on all four edges.'
        : heads ? 'The heads point to the photo\'s ' + side + ', and ' + heads + ' on the quilt.'
          : 'Its inner edge lies at the photo\'s ' + side + '.');
    }
    function chosen(sheet) {
      p.sheet = sheet;
      sides.hidden = sheet !== 'other';
      ready();
    }
    room.appendChild(made('div', { class: 'panel' }, [
      made('h3', {}, 'On the fabric lies'),
      choice('On the fabric lies', Object.keys(sheetNames).map(function (is) {
        return { is: is, shows: sheetNames[is] };
      }), p.sheet, chosen), sides
    ]));
    room.appendChild(made('div', { class: 'panel' }, [
      made('h3', {}, 'In the photo the strip will run'),
      choice('In the photo the strip will run', [
        { is: 'right', shows: [wayPicture(false), 'to the right'] },
        { is: 'down', shows: [wayPicture(true), 'down'] }
      ], p.along, function (along) {
        tellInner(along);
        if (along === p.along) { return; }
        p.along = along;
        p.repeats = { along: '', across: '' };
      }),
      inner
    ]));
    chosen(p.sheet);
    tellInner(p.along);
  },
  done: function () { return true; }
});

const cornerNames = ['top left', 'top right', 'bottom right', 'bottom left'];

// cornerMarks draws the corners that are set, and the outline once all are.
function cornerMarks(svg, corners, to, picked) {
  svg.textContent = '';
  const r = 15 / to;
  const set = corners.filter(Boolean);
  if (set.length > 1) {
    ['under', 'line'].forEach(function (kind) {
      drawn(svg, set.length === 4 ? 'polygon' : 'polyline',
        { class: kind, points: set.map(function (c) { return c.join(); }).join(' ') });
    });
  }
  corners.forEach(function (c, i) {
    if (!c) { return; }
    drawn(svg, 'circle', { class: i === picked ? 'dot picked' : 'dot', cx: c[0], cy: c[1], r: r });
    const out = [i === 0 || i === 3 ? -1 : 1, i < 2 ? -1 : 1];
    const n = drawn(svg, 'text', { class: 'number', x: c[0] + out[0] * r * 2.2,
      y: c[1] + out[1] * r * 2.2 + r * .7, 'font-size': r * 2 });
    n.textContent = i + 1;
  });
}

stages.push({
  name: 'touch', title: 'The sheet\'s corners', again: 'Look again',
  next: function () { return 'Find the edges'; },
  ready: function () { return fabric.corners.every(Boolean); },
  show: function (room) {
    const p = fabric;
    const canvas = p.canvas;
    const marks = drawn(made('div'), 'svg', { class: 'marks', 'aria-hidden': 'true',
      viewBox: '0 0 ' + canvas.width + ' ' + canvas.height });
    const loupe = made('canvas', { class: 'loupe', hidden: '', width: 360, height: 360 });
    const held = made('div', { class: 'held' }, [canvas, marks, loupe]);
    const shown = made('div', { class: 'shown' }, held);
    const asks = made('p', { class: 'asks' });
    const buttons = made('div', { class: 'ways corners4', role: 'group',
      'aria-label': 'The corners; arrow keys move one' });
    const pen = loupe.getContext('2d');
    let to = 1; // screen pixels for one of the photo
    let picked = -1;

    function next() { return p.corners.indexOf(null); }
    function bound(x, most) { return Math.max(0, Math.min(most - 1, x)); }
    function put(i, x, y) {
      p.corners[i] = [bound(x, canvas.width), bound(y, canvas.height)];
    }
    function paint() {
      cornerMarks(marks, p.corners, to, picked);
      const n = next();
      write(asks, n < 0 ? 'All four are set. Drag one that is off.'
        : 'Touch corner ' + (n + 1) + ' of the sheet: ' + cornerNames[n] + '.');
      all('button', buttons).forEach(function (b, i) {
        b.setAttribute('aria-pressed', String(i === picked));
        b.firstChild.hidden = b.lastChild.hidden = !p.corners[i];
      });
      ready();
    }
    // What lies under the finger, magnified, beside it.
    function magnify(i) {
      const c = p.corners[i];
      const side = loupe.width / 6; // pixels of the photo
      pen.fillStyle = '#000';
      pen.fillRect(0, 0, loupe.width, loupe.height);
      pen.drawImage(canvas, c[0] - side / 2, c[1] - side / 2, side, side,
        0, 0, loupe.width, loupe.height);
      const m = loupe.width / 2;
      [['#fff', 9], ['#000', 3]].forEach(function (line) {
        pen.strokeStyle = line[0];
        pen.lineWidth = line[1];
        pen.beginPath();
        pen.moveTo(m, 0); pen.lineTo(m, m - 24); pen.moveTo(m, m + 24); pen.lineTo(m, 2 * m);
        pen.moveTo(0, m); pen.lineTo(m - 24, m); pen.moveTo(m + 24, m); pen.lineTo(2 * m, m);
        pen.stroke();
      });
      loupe.hidden = false;
      const size = loupe.offsetWidth;
      const x = c[0] * to;
      const y = c[1] * to;
      const w = canvas.width * to;
      const left = Math.max(0, Math.min(w - size, x > w / 2 ? x - size - 60 : x + 60));
      let top = Math.max(0, Math.min(canvas.height * to - size, y - size - 30));
      // A narrow picture has no room beside the finger, nor above one at its top.
      if (x > left - 20 && x < left + size + 20 && y > top && y < top + size) { top = y + 60; }
      loupe.style.left = left + 'px';
      loupe.style.top = top + 'px';
    }

    let from = null;
    dragOn(held, {
      start: function (at, finger) {
        const box = canvas.getBoundingClientRect();
        const x = (at.x - box.left) / to;
        const y = (at.y - box.top) / to;
        picked = next();
        if (picked < 0) { // the nearest one, from where it is
          let near = Infinity;
          p.corners.forEach(function (c, i) {
            const far = Math.hypot(c[0] - x, c[1] - y);
            if (far < near) { near = far; picked = i; }
          });
          if (near * to > (finger ? 90 : 50)) { picked = -1; return; }
        } else {
          put(picked, x, y);
        }
        from = { x: at.x, y: at.y, c: p.corners[picked].slice() };
        paint();
        magnify(picked);
      },
      move: function (at) {
        if (picked < 0) { return; }
        put(picked, from.c[0] + (at.x - from.x) / to, from.c[1] + (at.y - from.y) / to);
        paint();
        magnify(picked);
      },
      end: function () {
        loupe.hidden = true;
        if (picked < 0) { return; }
        tell('Corner ' + (picked + 1) + ', ' + cornerNames[picked] + ', is set.');
        paint();
      }
    });

    cornerNames.forEach(function (name, i) {
      const b = press([made('span', { 'aria-hidden': 'true' }, '✓ '), (i + 1) + ' ' + name,
        made('span', { class: 'vh' }, ', set')], function () {
        picked = i;
        paint();
      }, { 'data-corner': i + 1 });
      b.addEventListener('keydown', function (e) {
        const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1],
          ArrowDown: [0, 1] }[e.key];
        if (!step) { return; }
        e.preventDefault();
        picked = i;
        if (p.corners[i]) {
          const by = e.shiftKey ? 20 : 1;
          put(i, p.corners[i][0] + step[0] * by, p.corners[i][1] + step[1] * by);
        } else { // where a sheet in the middle would have it
          put(i, canvas.width * (i === 0 || i === 3 ? .3 : .7), canvas.height * (i < 2 ? .3 : .7));
        }
        paint();
        magnify(i);
        tell('Corner ' + (i + 1) + ' is ' + Math.round(p.corners[i][0]) + ' right and ' +
          Math.round(p.corners[i][1]) + ' down.');
      });
      b.addEventListener('blur', function () { loupe.hidden = true; });
      buttons.appendChild(b);
    });
    room.appendChild(made('div', { class: 'panel' }, [asks, buttons, press('Touch all again',
      function () { p.corners = [null, null, null, null]; picked = -1; paint(); })]));
    room.appendChild(shown);
    this.fit = function () {
      to = fitIn(held, shown, canvas.width, canvas.height);
      canvas.style.width = canvas.style.height = '';
      paint();
    };
    this.fit();
  },
  done: function () {
    busy('The sheet\'s edges are looked for.');
    return lookAgain();
  }
});

stages.push({
  name: 'outline', title: 'The outline', again: 'Look again',
  next: function () { return 'Yes, it lies on the edges'; },
  ready: function () { return !!fabric.found; },
  show: function (room) {
    const p = fabric;
    const canvas = p.canvas;
    const marks = drawn(made('div'), 'svg', { class: 'marks', 'aria-hidden': 'true',
      viewBox: '0 0 ' + canvas.width + ' ' + canvas.height });
    const held = made('div', { class: 'held' }, [canvas, marks]);
    const shown = made('div', { class: 'shown' }, held);
    const panel = made('div', { class: 'panel' }, [
      made('p', { class: 'asks' }, 'Does the outline lie on the sheet\'s edges?')
    ]);
    if (!p.found.found) {
      panel.appendChild(made('p', { class: 'remark' },
        'The edges were not found; the corners are as touched.'));
    }
    if (p.found.doubt) { panel.appendChild(made('p', { class: 'remark' }, p.found.doubt)); }
    panel.appendChild(press('No, touch again', function () {
      showStage(stageAt - 1);
    }, { id: 'fabric-again' }));
    room.appendChild(panel);
    room.appendChild(shown);
    this.fit = function () {
      const to = fitIn(held, shown, canvas.width, canvas.height);
      canvas.style.width = canvas.style.height = '';
      cornerMarks(marks, p.found.corners, to, -1);
    };
    this.fit();
  },
  done: function () { return true; }
});

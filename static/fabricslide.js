'use strict';
// The corners, live: the strip slides across the print and along it, and its width grows, and all
// four corners show it.

const untyped = 'Shown on a middling center, until yours is typed.';

// mirrorsWell: the print looks the same turned over, so that it can be matched at a miter.
function mirrorsWell() {
  const p = fabric;
  return p.repeats.along !== 'plain' && p.found.along.mirror >= .8;
}

function repeatOf(way) {
  const text = fabric.repeats[way];
  return text === 'plain' ? 0 : readLength(text);
}

function headsUp() { return headsNow() === 'up'; }

// taking is what goes into the border's inputs. A print with its heads up has no line that turns
// the corner, and does not mirror there.
function taking() {
  const p = fabric;
  const up = headsUp();
  const across = up ? 0 : repeatOf('across');
  return {
    photo: p.found.swatch, cut: lengthText(p.cut),
    stripe: across ? repeatText(across) : '',
    start: across && p.start > 0 ? lengthText(p.start) : '',
    motif: !up && mirrorsWell() && p.match ? repeatText(repeatOf('along')) : ''
  };
}

// writeSoon writes what was told last, five times a second: a finger slides faster than one reads,
// and words cost an old tablet more than the drawing does.
const toWrite = new Map();
function writeSoon(node, text) {
  if (!toWrite.size) {
    setTimeout(function () {
      toWrite.forEach(writeNow);
      toWrite.clear();
    }, 200);
  }
  toWrite.set(node, text);
}

// writeNow writes into a paragraph, or gives a slide its words.
function writeNow(text, node) {
  if (node.type === 'range') { node.setAttribute('aria-valuetext', text); } else { write(node, text); }
}

// slider is one thing to slide: a name, its number, a step less, the slide, a step more.
// beside names what lies at a length, and near draws a finger to such a place.
function slider(name, label, of, least, most, get, set, beside, near) {
  const step = stepOf();
  const range = made('input', { type: 'range', id: 'fabric-' + name, step: 1,
    min: Math.round(least / step), max: Math.max(1, Math.ceil(most / step - 1e-6) - 1) });
  const shown = made('output', { for: 'fabric-' + name });
  function paint() {
    const name = beside ? beside(get()) : '';
    const text = withUnit(lengthText(get())) + (name ? ', ' + name : '');
    range.value = Math.round(get() / step);
    writeSoon(range, text);
    writeSoon(shown, text);
  }
  function to(n) {
    set(Math.max(Number(range.min), Math.min(Number(range.max), n)) * step);
    paint();
  }
  range.addEventListener('input', function () {
    const n = Number(range.value);
    if (near && near(n * step, step * 1.6)) { paint(); return; }
    to(n);
  });
  function nudge(by, words) {
    return press(by < 0 ? '−' : '+', function () { to(Math.round(get() / step) + by); },
      { 'aria-label': label + ': ' + words, class: 'nudge' });
  }
  const row = made('div', { class: 'slider', id: 'fabric-' + name + '-row' }, [
    made('label', { for: 'fabric-' + name }, [label, made('span', {}, of)]), shown,
    made('div', { class: 'track' }, [nudge(-1, 'a step less'), range, nudge(1, 'a step more')])]);
  paint();
  writeNow(toWrite.get(range), range);
  writeNow(toWrite.get(shown), shown);
  row.paint = paint;
  return row;
}

stages.push({
  name: 'corners', title: 'The corners', again: 'Next',
  next: function () { return 'So I like it'; },
  ready: function () { return !!fabric.found; },
  show: function (room) {
    const p = fabric;
    const along = repeatOf('along');
    const across = repeatOf('across');
    const svg = drawn(made('div'), 'svg', { class: 'corners', role: 'img',
      'aria-label': 'The four corners with this fabric' });
    const shown = made('div', { class: 'shown' }, made('div', { class: 'held' }, svg));
    const drawing = cornerDrawing(svg);
    const numbers = made('p', { class: 'numbers' });
    const middle = made('p', { class: 'numbers' });
    const buys = made('p', { class: 'numbers buys' }, p.buys);
    const axis = p.found.axis.along ? Number(p.found.axis.along.value) : 0;
    const at = { motif: axis, gap: (axis + along / 2) % along };
    let how = 'build'; // what the next frame does
    let waits = false;
    let timer = 0;
    let asked = 0;

    if (!p.cut) {
      p.cut = readLength(inputOf('cut').value) || (unitNow() === 'in' ? 6.5 : 16.5);
      p.start = readLength(inputOf('start').value) || 0;
    }
    if (!(p.start < across)) { p.start = 0; }
    if (!p.slid) { p.middles = { sides: axis, topBottom: axis }; }

    function same(a, b) { return Math.abs(a - b) < 1e-6; }
    function setMiddle(x) {
      p.middles = { sides: x, topBottom: x };
      p.slid = true;
      moved(false);
    }
    function into(x) { // a place in the repeat
      const at = x % across;
      return withUnit(lengthText(at > across - stepOf() / 2 ? 0 : at));
    }
    // frameSoon draws once, in the next frame, what was moved since.
    function frameSoon() {
      if (waits) { return; }
      waits = true;
      requestAnimationFrame(function () {
        waits = false;
        drawing[how]();
        how = 'slide';
        const seam = drawing.seam();
        const finished = p.cut - 2 * seam;
        let text = 'Finishes ' + withUnit(lengthText(finished)) + ' wide';
        if (across) {
          const inner = into(p.start + seam);
          const outer = into(p.start + p.cut - seam);
          text += inner === outer ? ', both seams on one line of the print: ' + inner + ' into it'
            : ', its seams ' + inner + ' and ' + outer + ' into the print';
        }
        text += '.';
        writeSoon(numbers, text);
      });
    }
    function moved(redraw) {
      if (redraw && how === 'slide') { how = 'lay'; }
      frameSoon();
      clearTimeout(timer);
      timer = setTimeout(reckon, 600);
    }
    // reckon asks how much fabric it takes, and what the plan will lay at the strips' middles.
    function reckon() {
      const mine = ++asked;
      if (how !== 'build') { how = 'settle'; }
      frameSoon();
      const t = taking();
      const first = Object.keys(t).map(function (name) {
        return encodeURIComponent('borders[' + (p.border - 1) + '].' + name) + '=' +
          encodeURIComponent(t[name]);
      });
      planForm.post('/new/preview', first.concat(planForm.sent()).join('&')).then(function (html) {
        if (mine !== asked || fabric !== p) { return; }
        const answer = document.createElement('div');
        answer.innerHTML = html;
        const row = answer.querySelector('[data-buys="' + p.border + '"]');
        const cells = row && row.children;
        p.buys = !row && !centerNow(seam).typed ? untyped
          : !row ? 'How much to buy is told once all sizes are typed.'
          : cells[0].textContent.trim() === '–' ? 'The strips do not fit on this fabric.'
          : 'Buy ' + cells[0].textContent.trim() + ', ' + cells[2].textContent.trim() + '.';
        write(buys, p.buys);
        const best = answer.querySelector('[data-prints="' + p.border + '"] .best');
        tellMiddle(best && best.dataset.middles.split(' '));
      }).catch(function () {
        write(buys, 'How much to buy is not known: the server can\'t be reached.');
      });
    }
    function tellMiddle(takes) {
      if (!along) { write(middle, ''); return; }
      if (!mirrorsWell()) {
        write(middle, 'Turned over, this print looks different: it can\'t mirror at the corners.');
        return;
      }
      if (!takes) {
        write(middle, 'At the strips\' middles: a motif or a gap.');
        return;
      }
      write(middle, takes[0] === takes[1] ? 'At the strips\' middles: a ' + takes[0] + '.'
        : 'At the middle of the sides: a ' + takes[0] + '; of top and bottom: a ' + takes[1] + '.');
      if (p.slid) { return; }
      p.middles = { sides: at[takes[0]], topBottom: at[takes[1]] };
      frameSoon();
      if (row.along) { row.along.paint(); }
    }

    const row = {};
    const panel = made('div', { class: 'panel' });
    if (across) {
      row.across = panel.appendChild(slider('start', 'Across', ' the print', 0, across,
        function () { return p.start; }, function (x) { p.start = x; moved(false); }));
    }
    if (along) {
      row.along = panel.appendChild(slider('middle', 'Along', ' the print', 0, along,
        function () { return p.middles.sides; },
        setMiddle, mirrorsWell() ? function (x) {
          return same(x, at.motif) ? 'motif' : same(x, at.gap) ? 'gap' : '';
        } : null,
        mirrorsWell() ? function (x, within) {
          return ['motif', 'gap'].some(function (is) {
            if (Math.abs(x - at[is]) > within) { return false; }
            setMiddle(at[is]);
            return true;
          });
        } : null));
    }
    const seam = bordersNow().seam;
    const inch = unitNow() === 'in' ? 1 : 2.5;
    row.cut = panel.appendChild(slider('cut', 'Cut width', '', 2 * seam + stepOf(),
      Math.max(12 * inch, Math.ceil(p.cut) + inch), function () { return p.cut; },
      function (x) { p.cut = x; moved(true); }));
    [numbers, buys, middle].forEach(function (line) { panel.appendChild(line); });
    room.appendChild(shown);
    room.appendChild(panel);
    this.fit = function () { fitIn(svg.parentNode, shown, 1, 1); };
    this.fit();
    moved(true);
    fetchTiles(bordersNow().list).then(function () { how = 'build'; frameSoon(); });
    tellMiddle(null);
  },
  done: function () { return true; }
});

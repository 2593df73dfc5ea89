'use strict';
// The four corners with the fabrics of the form's borders, as they lie once sewn. A strip is the
// same fabric turned by quarters, never flipped. What slides moves by one attribute of a pattern.

// bordersNow are the form's borders as far as they can be drawn, in the form's unit.
function bordersNow() {
  const seam = readLength(document.getElementsByName('seam')[0].value) ||
    (unitNow() === 'in' ? .25 : .75);
  const list = all('.border').map(function (box, i) {
    function value(name) {
      const input = document.getElementsByName('borders[' + i + '].' + name)[0];
      return input ? input.value : '';
    }
    const cut = readLength(value('cut'));
    const top = readLength(value('cutTopBottom'));
    const lines = [];
    for (let j = 0; j < box.querySelectorAll('.line').length; j++) {
      const width = readLength(value('lines[' + j + '].width'));
      if (width > 0) { lines.push({ width: width, color: value('lines[' + j + '].color') }); }
    }
    return { cut: cut > 2 * seam ? cut : 0, top: top > 2 * seam ? top : 0, lines: lines,
      start: readLength(value('start')) || 0, photo: value('photo'),
      heads: value('fabric.way') === 'one-way' ? value('fabric.heads') : '' };
  });
  return { seam: seam, list: list };
}

// centerNow is the finished center; typed tells whether it is the form's own.
function centerNow(seam) {
  function raw(name) { return readLength(document.getElementsByName('center.' + name)[0].value); }
  const w = raw('width');
  const l = raw('length');
  const usual = unitNow() === 'in' ? [36.5, 48.5] : [92, 122];
  const typed = w > 2 * seam && l > 2 * seam;
  const coping = document.getElementsByName('coping.edges')[0].value;
  const strip = readLength(document.getElementsByName('coping.cut')[0].value);
  const adds = coping && strip > 2 * seam ? 2 * (strip - 2 * seam) : 0;
  return { typed: typed, width: (typed ? w : usual[0]) - 2 * seam + (coping === 'sides' ? adds : 0),
    length: (typed ? l : usual[1]) - 2 * seam + (coping === 'topBottom' ? adds : 0) };
}

const otherTiles = {}; // of the other borders' photos, by swatch; null: not there

// fetchTiles asks how large the tiles of the other borders are.
function fetchTiles(list) {
  return Promise.all(list.map(function (b, i) {
    if (!b.photo || i === fabric.border - 1 || otherTiles[b.photo] !== undefined) { return null; }
    return call('GET', '/' + b.photo + '/asked').then(function (was) {
      otherTiles[b.photo] = was;
    }).catch(function () { otherTiles[b.photo] = null; });
  }));
}

// cornerDrawing draws the corners into an svg: build makes them, lay gives the border in hand
// another width, slide moves its fabric, settle scales what was widened.
function cornerDrawing(svg) {
  let patterns = []; // of the border in hand, each with its edge and how far it is turned
  let seam = 0;
  function round(x) { return Math.round(x * 100) / 100; }
  function shift(x, y) { return 'translate(' + round(x) + ' ' + round(y) + ')'; }

  // turnOf is how far a print is turned on a strip that is itself turned so many degrees. Most turn
  // with the strip; one with its heads up stays as the photo shows it, which has its heads up.
  function turnOf(b, turned, down) {
    if (b.heads === 'up') { return (360 - turned + (down ? 90 : 0)) % 360; }
    return b.heads === 'outwards' ? 180 : 0;
  }

  // fill is how a strip of border i looks: a pattern in the strip's own units, or a tint.
  function fillOf(defs, b, i, edge, turned) {
    const p = fabric, hand = i === p.border - 1;
    const other = !hand && b.photo && otherTiles[b.photo];
    const turn = turnOf(b, turned, (hand ? p : other || {}).along === 'down');
    const id = 'fabric-' + i + '-' + edge + '-' + turn;
    const at = { id: id, patternUnits: 'userSpaceOnUse' };
    if (defs.querySelector('#' + id)) { return 'url(#' + id + ')'; }
    function from(along, start) { return 'rotate(' + turn + ') ' + shift(-along, -start); }
    if (hand) {
      const w = unitsOf(Number(p.found.size.along.value));
      const h = unitsOf(Number(p.found.size.across.value));
      const pattern = drawn(defs, 'pattern', Object.assign({ width: w, height: h }, at));
      pictureIn(pattern, p.found.tile, { width: w, height: h, preserveAspectRatio: 'none' });
      patterns.push({ node: pattern, edge: edge, turn: turn });
    } else if (other) {
      const t = other;
      const w = unitsOf(readLength(t.size.along));
      const h = unitsOf(readLength(t.size.across));
      const pattern = drawn(defs, 'pattern', Object.assign({ width: w, height: h,
        patternTransform: from(unitsOf(readLength(t.axis.along)), unitsOf(b.start + seam)) }, at));
      pictureIn(pattern, '/api/v1/photos/' + b.photo,
        { width: w, height: h, preserveAspectRatio: 'none' });
    } else if (b.lines.length) {
      const sum = b.lines.reduce(function (s, l) { return s + l.width; }, 0);
      const pattern = drawn(defs, 'pattern', Object.assign({ width: 1000, height: unitsOf(sum),
        patternTransform: from(0, unitsOf(b.start + seam)) }, at));
      let y = 0;
      b.lines.forEach(function (l) {
        drawn(pattern, 'rect', { width: 1000, y: unitsOf(y), height: unitsOf(l.width) + .5,
          fill: l.color });
        y += l.width;
      });
    } else {
      return '';
    }
    return 'url(#' + id + ')';
  }

  // build makes the elements once; what changes are their attributes.
  let list = [];
  let nodes = [];
  let rect = null;
  let reach = 0; // how much of each corner is seen
  function build() {
    svg.textContent = '';
    const defs = drawn(svg, 'defs', {});
    rect = drawn(drawn(defs, 'clipPath', { id: 'fabric-corner' }), 'rect', {});
    const now = bordersNow();
    seam = now.seam;
    list = now.list;
    patterns = [];
    // A corner is drawn in the frame of the strip that ends there at its right side, which is
    // turned k quarters; the strip that meets it lies a quarter on, and ends there at its left.
    nodes = [0, 1, 2, 3].map(function (k) {
      const corner = drawn(svg, 'g', { transform: 'rotate(' + 90 * k + ')' });
      const g = drawn(drawn(corner, 'g', { 'clip-path': 'url(#fabric-corner)' }), 'g', {});
      const middle = drawn(g, 'rect', { class: 'middle' });
      const borders = list.map(function (b, i) {
        return { strips: [1 - k % 2, k % 2].map(function (edge, n) {
          const fill = fillOf(defs, b, i, edge ? 'topBottom' : 'sides', (90 * k + 270 * n) % 360);
          const strip = drawn(g, 'g', {});
          return { g: strip, shape: drawn(strip, 'polygon',
            fill ? { fill: fill } : { class: 'c' + (i % 4 + 1) }) };
        }), seams: [drawn(g, 'path', { class: 'seam' }), drawn(g, 'path', { class: 'seamline' })] };
      });
      return { g: g, middle: middle, borders: borders, rim: drawn(g, 'path', { class: 'rim' }) };
    });
    lay(true);
  }

  function set(node, attributes) {
    Object.keys(attributes).forEach(function (a) {
      const to = String(attributes[a]);
      if (node.getAttribute(a) !== to) { node.setAttribute(a, to); }
    });
  }

  // lay gives everything its place for the width that the border in hand has now. The scale stays
  // while a finger widens it, as far as there is room: it is calmer, and less to draw.
  function lay(scaled) {
    const p = fabric;
    const center = centerNow(seam);
    const usual = unitNow() === 'in' ? 3 : 8;
    const widths = list.map(function (b, i) {
      const cut = i === p.border - 1 ? p.cut : b.cut || usual;
      return { sides: unitsOf(cut - 2 * seam), topBottom: unitsOf((b.top || cut) - 2 * seam) };
    });
    const total = widths.reduce(function (s, w) {
      return { x: s.x + w.sides, y: s.y + w.topBottom };
    }, { x: 0, y: 0 });
    const most = Math.max(total.x, total.y);
    if (scaled || most > reach * .9) { reach = round(most * 1.75); }
    const half = round(reach * 29 / 28); // with half the gap between two
    const w = unitsOf(center.width) / 2;
    const l = unitsOf(center.length) / 2;
    set(svg, { viewBox: [-half, -half, 2 * half, 2 * half].join(' ') });
    set(rect, { x: round(half - reach), y: round(half - reach), width: reach, height: reach });
    nodes.forEach(function (corner, k) {
      const upright = k % 2 === 0; // the first strip lies along top or bottom
      let x = upright ? w : l; // from the middle of the quilt to the corner, growing outward
      let y = upright ? l : w;
      const out = upright ? { x: x + total.x, y: y + total.y } : { x: x + total.y, y: y + total.x };
      set(corner.g, { transform: shift(half - out.x, half - out.y) });
      set(corner.middle, { x: round(out.x - reach), y: round(out.y - reach), width: reach,
        height: reach });
      corner.borders.forEach(function (b, i) {
        const wx = upright ? widths[i].sides : widths[i].topBottom; // of the strip at the side
        const wy = upright ? widths[i].topBottom : widths[i].sides;
        const back = Math.max(x, y); // longer than what is seen
        // Each strip in its own frame: along it from its middle, out from its inner seam.
        [{ turn: 0, x: 0, y: y, end: x, wide: wy, gains: wx, side: 1 },
          { turn: -90, x: x, y: 0, end: y, wide: wx, gains: wy, side: -1 }
        ].forEach(function (s, n) {
          const strip = b.strips[n];
          set(strip.g, { transform: shift(s.x, s.y) + ' rotate(' + s.turn + ')' });
          set(strip.shape, { points: [[s.end, 0], [s.end + s.gains, s.wide], [s.end - back, s.wide],
            [s.end - back, 0]].map(function (q) {
            return [round(s.side * q[0]), round(q[1])].join();
          }).join(' ') });
        });
        const seams = inner(x, y, reach) +
          'M' + [x, y].map(round) + 'L' + [x + wx, y + wy].map(round);
        b.seams.forEach(function (path) { set(path, { d: seams }); });
        x += wx;
        y += wy;
      });
      set(corner.rim, { d: inner(x, y, reach) });
    });
    slide();
  }

  // inner is the line along both strips through a corner.
  function inner(x, y, reach) {
    return 'M' + [x - 2 * reach, y].map(round) + 'H' + round(x) + 'V' + round(y - 2 * reach);
  }

  // slide moves the fabric under the strips, and nothing else.
  function slide() {
    const p = fabric;
    const y = -unitsOf(p.start + seam);
    patterns.forEach(function (one) {
      const x = -unitsOf(p.middles[one.edge]);
      set(one.node, { patternTransform: 'rotate(' + one.turn + ') ' + shift(x, y) });
    });
  }
  return { build: build, lay: function () { lay(false); }, slide: slide,
    settle: function () { lay(true); }, seam: function () { return seam; } };
}

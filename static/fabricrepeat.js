'use strict';
// How the print repeats: along the strip, then across it. What was found is shown by two repeats
// laid over each other, and counts once a person has seen that nothing shows double.
function repeatStage(way, title) {
  const along = way === 'along';

  return {
    name: way, title: title, again: 'Try again',
    next: function () {
      return fabric.repeats[way] === 'plain' ? 'Yes, it is the same' : 'Yes, nothing is double';
    },
    ready: function () {
      const text = fabric.repeats[way];
      return text === 'plain' || readLength(text) > 0;
    },
    show: function (room) {
      const p = fabric;
      const marks = drawn(made('div'), 'svg', { class: 'pair', role: 'img' });
      const held = made('div', { class: 'held' }, marks);
      const shown = made('div', { class: 'shown' }, held);
      const words = made('p', { class: 'words' });
      const field = made('input', { id: 'fabric-length', autocomplete: 'off',
        autocapitalize: 'off' });
      const offers = made('div', { class: 'ways offers' });
      let size, over, line; // of the picture, and what moves in it
      let base = 0; // the repeat that is drawn
      let timer = 0;

      function length(figure) { return Number(figure.value); }
      function settled() { return p.repeats[way]; }

      // The picture is that of the last answer.
      function paint() {
        const pair = p.found.pair;
        marks.textContent = '';
        size = [length(pair.size.along), length(pair.size.across)];
        // The other way is cut short, so that the way in question is seen as large as can be.
        const at = along ? 0 : 1;
        const box = size.slice();
        const shape = shown.clientHeight / shown.clientWidth;
        box[1 - at] = Math.min(size[1 - at], Math.max(size[at] * (along ? shape : 1 / shape), size[at] / 4));
        marks.setAttribute('viewBox', [0, 0].concat(box.map(unitsOf)).join(' '));
        const all = { width: unitsOf(size[0]), height: unitsOf(size[1]),
          preserveAspectRatio: 'none' };
        if (pair.picture) {
          pictureIn(marks, pair.picture, all);
          over = pictureIn(marks, pair.picture, Object.assign({ opacity: .5 }, all));
        } else {
          over = drawn(marks, 'g', {});
        }
        line = drawn(marks, 'path', { class: 'seamline' });
        fitIn(held, shown, box[0], box[1]);
        move(readLength(settled()));
        offer();
      }
      // move lays the second picture so far on.
      function move(x) {
        const plain = settled() === 'plain';
        const here = x > 0 && !plain;
        base = here ? x : 0;
        flag(over, 'visibility', !here, 'hidden');
        flag(line, 'visibility', !here, 'hidden');
        if (here) {
          const u = unitsOf(x);
          over.setAttribute('transform', 'translate(' + (along ? u + ' 0' : '0 ' + u) + ')');
          line.setAttribute('d', along ? 'M' + u + ' 0v' + unitsOf(size[1])
            : 'M0 ' + u + 'h' + unitsOf(size[0]));
        }
        held.setAttribute('aria-valuenow', here ? Math.round(x * 1000) / 1000 : 0);
        held.setAttribute('aria-valuemax', size[along ? 0 : 1]);
        held.setAttribute('aria-valuetext', here ? withUnit(repeatText(x)) : 'none yet');
        marks.setAttribute('aria-label', here ? 'Two repeats of ' + withUnit(repeatText(x)) +
          ' laid over each other' : 'The fabric');
        const d = p.found[way];
        const tooFar = here && x >= size[along ? 0 : 1] * .98;
        write(words, plain ? 'It is the same all along, without a repeat.'
          : tooFar ? 'Less than two repeats are in view: measure it with a ruler.'
            : here ? 'Drag the upper picture till nothing shows double.'
              : d.words + ' Drag the picture on to its next repeat, or type the length.');
        all('[data-plain]', room)[0].setAttribute('aria-pressed', String(plain));
      }
      function offer() {
        offers.textContent = '';
        const lengths = [];
        function near(x) {
          return lengths.some(function (l) { return Math.abs(l / x - 1) < .01; });
        }
        function add(name, x) {
          if (!(x > 0) || lengths.length > 4 || near(x)) { return; }
          lengths.push(x);
          offers.appendChild(press(name + withUnit(repeatText(x)),
            function () { settle(repeatText(x), true); }));
        }
        if (base) {
          lengths.push(base);
          add('Half: ', base / 2);
          add('Double: ', base * 2);
        }
        const d = p.found[way];
        if (d.period) { add('', length(d.period)); }
        d.others.forEach(function (o) { add('', length(o)); });
      }
      // settle takes what a person said, and asks for a picture of that.
      function settle(text, write1) {
        p.repeats[way] = text;
        if (write1) { field.value = text === 'plain' ? '' : text; }
        move(readLength(text));
        offer();
        ready();
        clearTimeout(timer);
        timer = setTimeout(function () {
          if (stages[stageAt].name !== way || !stages[stageAt].ready()) { return; }
          tell('The picture is cut anew.');
          lookAgain().then(function () {
            if (p.repeats[way] !== text || stages[stageAt].name !== way) { return; }
            tell('');
            scold('');
            paint();
          }).catch(function (failed) {
            tell('');
            if (stages[stageAt].name === way) { scold(failed.said); }
          });
        }, 500);
      }

      let from = null;
      dragOn(held, {
        off: function () { return !size; },
        start: function (at) {
          const most = size[along ? 0 : 1];
          if (settled() === 'plain') { p.repeats[way] = ''; }
          from = { at: at, length: base || most / 3,
            per: most / (along ? held.clientWidth : held.clientHeight), now: 0 };
          clearTimeout(timer);
        },
        move: function (at) {
          const most = size[along ? 0 : 1];
          const by = (along ? at.x - from.at.x : at.y - from.at.y) * from.per;
          from.now = Math.max(most / 40, Math.min(most * .97, from.length + by));
          field.value = repeatText(from.now);
          requestAnimationFrame(function () { move(from.now); });
        },
        end: function () { if (from.now) { settle(repeatText(from.now), true); } }
      });
      field.addEventListener('input', function () { settle(field.value.trim()); });
      held.setAttribute('tabindex', '0');
      held.setAttribute('role', 'slider');
      held.setAttribute('aria-label', 'The next repeat, laid over');
      held.addEventListener('keydown', function (e) {
        const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[e.key];
        if (!by || !base) { return; }
        e.preventDefault();
        settle(repeatText(Math.max(stepOf(), base + by * stepOf() / 2)), true);
      });

      room.appendChild(made('div', { class: 'panel' }, [words,
        made('div', { class: 'field' }, [
          made('label', { for: 'fabric-length' },
            'One repeat in ' + (unitNow() === 'in' ? 'inches' : 'centimeters')), field]),
        offers,
        press('The same all along', function () { settle('plain', true); }, { 'data-plain': '' })]));
      room.appendChild(shown);
      const d = p.found[way];
      if (!settled()) { // only what is sure is filled in unasked
        if (d.kind === 'plain') { p.repeats[way] = 'plain'; }
        if (d.kind === 'sure') { p.repeats[way] = repeatText(length(d.period)); }
      }
      if (settled() && settled() !== 'plain') { field.value = repeatText(readLength(settled())); }
      this.fit = paint;
      paint();
    },
    done: function () {
      const p = fabric;
      busy('The fabric is cut anew.');
      return lookAgain();
    }
  };
}

// unitsOf is a length in the drawings' own: fine enough for browsers that round.
function unitsOf(x) { return Math.round(x * 10000) / 100; }

stages.push(repeatStage('along', 'Repeat along the strip'));
stages.push(repeatStage('across', 'Repeat across the strip'));

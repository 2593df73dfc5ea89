'use strict';
// What goes into the plan, in words; and into the form's inputs.
stages.push({
  name: 'taken', title: 'Into the plan', again: 'Try again',
  next: function () { return 'Take it into the plan'; },
  ready: function () { return true; },
  show: function (room) {
    const p = fabric;
    const none = 'none, it is the same all along';
    const list = made('ul', { class: 'taken' });
    const panel = made('div', { class: 'panel' }, [
      made('p', { class: 'asks' }, 'Border ' + p.border + ' gets this fabric:'), list]);
    function paint() {
      const t = taking();
      list.textContent = '';
      (headsUp() ? [['Cut width', withUnit(t.cut)],
        ['Heads up on all four edges', 'no line of it turns a corner']
      ] : [['Cut width', withUnit(t.cut)],
        ['Repeat across the strip', t.stripe ? withUnit(t.stripe) : none],
        ['Inner raw edge', t.stripe ? withUnit(t.start || '0') + ' into the repeat' : ''],
        ['Repeat along the strip', p.repeats.along === 'plain' ? none
          : t.motif ? withUnit(t.motif) + ', to match at the corners'
            : withUnit(repeatText(repeatOf('along'))) + ', not matched at the corners']
      ]).forEach(function (line) {
        if (line[1]) { list.appendChild(made('li', {}, [line[0] + ': ', made('b', {}, line[1])])); }
      });
    }
    if (!headsUp() && mirrorsWell()) {
      panel.appendChild(made('p', {},
        'Turned over, the print looks the same. Shall it match at the corners?'));
      panel.appendChild(choice('Match at the corners', [{ is: 'yes', shows: 'Match it' },
        { is: 'no', shows: 'Leave it' }], p.match ? 'yes' : 'no', function (is) {
        p.match = is === 'yes';
        paint();
      }));
    } else if (!headsUp() && p.repeats.along !== 'plain') {
      panel.appendChild(made('p', { class: 'remark' },
        'Turned over, the print looks different, so it can\'t mirror at the corners: the plan ' +
        'matches nothing along it.'));
    }
    if (bordersNow().list[p.border - 1].lines.length) {
      panel.appendChild(made('p', { class: 'hint' },
        'Lines that were typed are left out unless they are one repeat of this fabric.'));
    }
    const tile = made('img', { class: 'tile', src: p.found.tile, alt: 'One repeat of the fabric' });
    room.appendChild(panel);
    room.appendChild(made('div', { class: 'shown' }, tile));
    paint();
  },
  done: function () {
    const p = fabric;
    const t = taking();
    const before = {};
    Object.keys(t).forEach(function (name) {
      before[name] = inputOf(name).value;
      inputOf(name).value = t[name];
    });
    busy('It is taken into the plan.');
    return planForm.edit('shown-' + p.border).then(function () {
      p.took = t.photo;
      p.stage = stages.length - 2;
      if (fabric === p) { fabricDialog.close(); }
    }).catch(function () {
      Object.keys(before).forEach(function (name) { inputOf(name).value = before[name]; });
      throw { said: noAnswer, away: true };
    });
  }
});

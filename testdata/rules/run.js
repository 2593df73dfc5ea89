'use strict';
// Answers a recorded case with static/rules.js: node run.js RULES CASE prints the
// moments of the case as the script sees them. No page is loaded, and none is needed.
const fs = require('fs');
const vm = require('vm');

const recorded = JSON.parse(fs.readFileSync(process.argv[3], 'utf8'));

// What follows is run in one scope with the rules, as in the page's bundle.
function answer() {
  const options = function (m) {
    if (!m.options) { return null; }
    return m.options.reduce(function (words, o) { words[o.value] = o.label; return words; }, {});
  };
  setSteps(recorded.steps.map(function (s) {
    const measures = s.measures.map(function (m) { return { id: m.id, label: m.label, options: options(m), tick: m.tick, expect: m.expect }; });
    return Object.assign({}, s, { measures: measures, ticks: s.ticks.map(function (t) { return Object.assign({}, t); }) });
  }));
  let work = { here: steps[0].id, last: null, done: {}, later: {}, values: {}, notes: {} };
  return recorded.moments.map(function (moment) {
    const deeds = moment.deeds.map(function (deed) {
      work = take(copy(work), deed.op);
      return { op: deed.op, last: work.last ? work.last.text : '', here: work.here };
    });
    return { name: moment.name, deeds: deeds, steps: steps.map(stepNow), corners: recorded.corners.map(cornerNow) };
  });

  function stepNow(s) {
    const is = stepState(work, s);
    return {
      id: s.id, state: is.state, word: is.word, pick: pick(work, s).id,
      ticks: s.ticks.map(function (t) {
        const lock = stateOf(work, t) === 'locked' ? ' ' + lockOf(work, t).id : '';
        const users = work.done[t.id] ? usersOf(work, t).map(function (u) { return ' ' + u.id; }).join('') : '';
        return modeOf(work, t) + (atWork(work, t) ? ' at work' : '') + lock + (users && ' for' + users);
      })
    };
  }

  function cornerNow(c) {
    const is = cornerState(work, c);
    return { name: is.name, word: is.word, step: is.step };
  }
}

const rules = fs.readFileSync(process.argv[2], 'utf8');
const moments = vm.runInNewContext(rules + '\n(' + answer + ')()', { recorded: recorded });
process.stdout.write(JSON.stringify(moments, null, 1) + '\n');

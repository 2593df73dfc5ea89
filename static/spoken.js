'use strict';
// What is shown, as people say it: "35 1/2 in" is thirty-five and a half inches. A number that
// counts or names, as in corner 2, stays as it is: voices say it right.
const spokenUnits = { // one of it, and more
  in: ['an inch', 'inches'], ft: ['a foot', 'feet'], yd: ['a yard', 'yards'],
  mm: ['a millimeter', 'millimeters'], cm: ['a centimeter', 'centimeters'],
  m: ['a meter', 'meters'], '°': ['a degree', 'degrees'], '%': ['a percent', 'percent']
};
const spokenParts = {
  2: 'half', 3: 'third', 4: 'quarter', 5: 'fifth', 6: 'sixth', 8: 'eighth', 10: 'tenth',
  12: 'twelfth', 16: 'sixteenth', 32: 'thirty-second', 64: 'sixty-fourth'
};
const spokenOnes = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine',
  'ten', 'eleven', 'twelve', 'thirteen', 'fourteen', 'fifteen', 'sixteen', 'seventeen', 'eighteen',
  'nineteen'];
const spokenTens = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty',
  'ninety'];

const anAmount = '\\d+ \\d+/\\d+|\\d+/\\d+|\\d+[.,]\\d+|\\d+';
const aUnit = 'in\\b|ft\\b|yd\\b|mm\\b|cm\\b|m\\b|°|%';
// What goes before, a minus, the amount, its unit. "11th" and "45-degree" are words.
const anyAmount = new RegExp('(^|[^\\w.,/])([−-]?)(' + anAmount + ')(?![\\w/]|[.,]\\d|-\\w)' +
  '(?: ?(' + aUnit + '))?', 'g');
const unitOfBoth = new RegExp('(' + anAmount + ') ?(' + aUnit + ') × (?=(?:' + anAmount +
  ') ?\\2)', 'g');
const byLength = new RegExp('^ × (?:' + anAmount + ') ?(?:' + aUnit + ')');

function spoken(text) {
  return text.replace(unitOfBoth, '$1 × ')
    .replace(anyAmount, function (all, before, minus, amount, unit, at, whole) {
      const counts = !unit && /^\d+([.,]\d+)?$/.test(amount) &&
        !byLength.test(whole.slice(at + all.length));
      return before + (minus ? 'minus ' : '') + (counts ? amount : spokenAmount(amount, unit));
    })
    .replace(/ × /g, ' by ');
}

function spokenAmount(amount, unit) {
  const name = spokenUnits[unit];
  const part = /^(?:(\d+) )?(\d+)\/(\d+)$/.exec(amount);
  if (!part) {
    const number = spokenDecimal(amount);
    if (!name) { return number; }
    return number + ' ' + (number === 'one' ? name[0].replace(/^an? /, '') : name[1]);
  }
  const fraction = spokenFraction(Number(part[2]), Number(part[3]));
  if (part[1]) {
    return spokenWhole(Number(part[1])) + ' and ' + fraction + (name ? ' ' + name[1] : '');
  }
  if (!name) { return fraction; }
  return fraction === 'a half' ? 'half ' + name[0] : fraction + ' of ' + name[0];
}

function spokenFraction(n, of) {
  const name = spokenParts[of];
  if (!name) { return spokenWhole(n) + ' over ' + spokenWhole(of); }
  if (n === 1) { return (of === 8 ? 'an ' : 'a ') + name; }
  return spokenWhole(n) + ' ' + (of === 2 ? 'halves' : name + 's');
}

// spokenDecimal says digits behind the point one by one, and no zeros at its end.
function spokenDecimal(amount) {
  const sides = amount.split(/[.,]/);
  const digits = (sides[1] || '').replace(/0+$/, '');
  return spokenWhole(Number(sides[0])) + (digits && ' point ' +
    digits.split('').map(function (d) { return spokenOnes[d]; }).join(' '));
}

function spokenWhole(n) {
  if (n < 20) { return spokenOnes[n]; }
  if (n < 100) {
    return spokenTens[Math.floor(n / 10)] + (n % 10 ? '-' + spokenOnes[n % 10] : '');
  }
  if (n >= 1e6) { return String(n); }
  const over = n < 1000 ? 100 : 1000;
  return spokenWhole(Math.floor(n / over)) + (over === 100 ? ' hundred' : ' thousand') +
    (n % over ? ' ' + spokenWhole(n % over) : '');
}

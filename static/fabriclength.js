'use strict';
// Lengths as people write them. What counts is what the server makes of the text; here it is
// read to draw with.
function unitNow() { return document.querySelector('[name=unit]:checked').value; }

// readLength is a length in the form's unit, NaN where it is none.
function readLength(text) {
  const m = /^\s*(\d+(?:[.,]\d+)?|[.,]\d+)?(?:[\s-]*(\d+)\s*\/\s*(\d+))?\s*(in|"|″|cm|mm|m)?\s*$/
    .exec(text);
  if (!m || !m[1] && !m[2]) { return NaN; }
  const x = Number((m[1] || '0').replace(',', '.')) + (m[2] ? m[2] / m[3] : 0);
  const unit = unitNow();
  const inCm = { in: 2.54, '"': 2.54, '″': 2.54, cm: 1, mm: .1, m: 100 };
  return x * inCm[m[4] || unit] / inCm[unit];
}

// stepOf is the least that a finger moves by: 1/16 in, or 1 mm.
function stepOf() { return unitNow() === 'in' ? 1 / 16 : .1; }

// fraction is a length in so many parts of an inch: "6 1/2".
function fraction(x, parts) {
  let of = parts;
  let n = Math.round(x * of);
  while (n % 2 === 0 && of > 1) { n /= 2; of /= 2; }
  const whole = Math.floor(n / of);
  const rest = n - whole * of;
  return rest ? (whole ? whole + ' ' : '') + rest + '/' + of : String(whole);
}

// lengthText is a length on the lines of a ruler.
function lengthText(x) {
  return unitNow() === 'in' ? fraction(x, 16) : String(Math.round(x * 10) / 10);
}

// repeatText is a repeat: finer than a ruler where its lines are off by more than 0.3 %, for
// what is off adds up from repeat to repeat.
function repeatText(x) {
  if (unitNow() !== 'in') { return String(Math.round(x * 100) / 100); }
  const near = Math.round(x * 16) / 16;
  return Math.abs(near / x - 1) < .003 ? fraction(x, 16) : String(Math.round(x * 1000) / 1000);
}

// withUnit is a length that is not parted at the end of a line.
function withUnit(text) { return (text + ' ' + unitNow()).replace(/ /g, '\u00a0'); }

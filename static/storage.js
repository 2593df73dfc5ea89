'use strict';
// What this browser keeps for the session: a key a row, so that two tabs never
// write over each other. Storage may be closed, as in a private window, or full.
// Then a row is in memory only, and the person is told once it has to wait there.
let lastStamp = 0; // of the newest key; keys are in the order of what was done

// newID is 128 bits that no other device makes.
function newID() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, function (b) { return (b < 16 ? '0' : '') + b.toString(16); }).join('');
}

// newKey is behind every key before it, even when the clock was set back.
function newKey(prefix) {
  lastStamp = Math.max(Date.now(), lastStamp + 1);
  return prefix + lastStamp + ':' + newID().slice(0, 8);
}

// stored is what is kept under a prefix, oldest first: {key, value}. A row that can't
// be read is left where it is.
function stored(prefix) {
  const rows = [];
  try {
    for (let i = 0; i < localStorage.length; i++) {
      const row = readStored(localStorage.key(i), prefix);
      if (row) { rows.push(row); }
    }
  } catch (e) { /* closed: nothing was kept */ }
  return rows.sort(function (a, b) { return a.key < b.key ? -1 : 1; });
}

function readStored(key, prefix) {
  if (key.indexOf(prefix) !== 0) { return null; }
  try {
    const value = JSON.parse(localStorage.getItem(key));
    if (!value) { return null; }
    lastStamp = Math.max(lastStamp, parseInt(key.slice(prefix.length), 10) || 0);
    return { key: key, value: value };
  } catch (e) { return null; }
}

// store is false when the row is in memory only.
function store(key, value) {
  try {
    localStorage.setItem(key, JSON.stringify(value));
    return true;
  } catch (e) { return false; }
}

function unstore(key) {
  try { localStorage.removeItem(key); } catch (e) { /* nothing was kept */ }
}

'use strict';
// What this browser keeps for the session: a key a row, so that two tabs never
// write over each other. Storage may be closed, as in a private window, or full.
// Then a row is in memory only, and the person is told once it has to wait there.
let lastStamp = 0; // of the newest key; keys are in the order of what was done

// newKey is behind every key before it, even when the clock was set back.
function newKey(prefix) {
  lastStamp = Math.max(Date.now(), lastStamp + 1);
  return prefix + lastStamp + ':' + newID().slice(0, 8);
}

// kept is what is kept under a prefix, oldest first: {key, value}. A row that can't
// be read is left where it is.
function kept(prefix) {
  const rows = [];
  try {
    for (let i = 0; i < localStorage.length; i++) {
      const row = readKept(localStorage.key(i), prefix);
      if (row) { rows.push(row); }
    }
  } catch (e) { /* closed: nothing was kept */ }
  return rows.sort(function (a, b) { return a.key < b.key ? -1 : 1; });
}

function readKept(key, prefix) {
  if (key.indexOf(prefix) !== 0) { return null; }
  try {
    const value = JSON.parse(localStorage.getItem(key));
    if (!value) { return null; }
    lastStamp = Math.max(lastStamp, parseInt(key.slice(prefix.length), 10) || 0);
    return { key: key, value: value };
  } catch (e) { return null; }
}

// keep is false when the row is in memory only.
function keep(key, value) {
  try {
    localStorage.setItem(key, JSON.stringify(value));
    return true;
  } catch (e) { return false; }
}

function unkeep(key) {
  try { localStorage.removeItem(key); } catch (e) { /* nothing was kept */ }
}

'use strict';
// What the server is asked. A refusal has the server's own sentence; where there is no answer it is
// said that the network is gone, and what was asked can be asked again.
const noAnswer = 'The server can\'t be reached. Nothing is lost: it is kept here.';

// call tells done an answer, or failed a sentence. sending hears how much is sent, from 0 to 1.
function call(method, path, kind, body, sending) {
  return new Promise(function (done, failed) {
    const asked = new XMLHttpRequest();
    asked.open(method, '/api/v1/photos' + path);
    if (kind) { asked.setRequestHeader('Content-Type', kind); }
    asked.timeout = 90000;
    if (sending) {
      asked.upload.onprogress = function (e) {
        if (e.lengthComputable) { sending(e.loaded / e.total); }
      };
    }
    asked.onload = function () {
      let answer = null;
      try { answer = JSON.parse(asked.responseText); } catch (e) { /* no answer of ours */ }
      if (asked.status >= 200 && asked.status < 300 && answer) {
        done(answer);
      } else if (answer && answer.error && answer.error.message) {
        failed({ said: answer.error.message, field: answer.error.field });
      } else {
        failed({ said: noAnswer, away: true });
      }
    };
    asked.onerror = asked.ontimeout = function () { failed({ said: noAnswer, away: true }); };
    asked.send(body || null);
  });
}

function sendPhoto(blob, sending) { return call('POST', '', 'image/jpeg', blob, sending); }

// askFlat asks how the fabric looks from above.
function askFlat(p) {
  return call('POST', '/' + p.id + '/flat', 'application/json', JSON.stringify({
    sheet: p.sheet === 'other' ? { width: p.sides[0], length: p.sides[1] } : p.sheet,
    corners: p.corners, along: p.along, unit: unitNow(), repeats: p.repeats
  }));
}

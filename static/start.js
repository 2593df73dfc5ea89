'use strict';
// Last of all: everything is there, begin.
readPage(document);
recall();
shown = copy(work);
fromAddress();
startTick();
startHold();
startMeasure();
startPad();
startHalves();
startPace();
startPicture();
startLater();
startRedo();
startReason();
startRefused();
startBring();
again();
drain();
connect();
drawAgain();
startOffline();

window.addEventListener('pagehide', hangUp);
window.addEventListener('pageshow', function (e) { if (e.persisted) { wake(); } });
window.addEventListener('online', wake);
window.addEventListener('offline', lost);
document.addEventListener('visibilitychange', wake);

// A clock that jumped was asleep, and so was the line.
let beat = Date.now();
setInterval(function () {
  const now = Date.now();
  if (now - beat > 20000) { wake(); }
  beat = now;
}, 5000);

if (document.fonts && document.fonts.status !== 'loaded') { document.fonts.ready.then(refit); }

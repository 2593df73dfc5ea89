'use strict';
// The first stage: the photo. It is opened by the browser's own picture, which stands upright as
// the camera held it, and has a data: address: the policy of the page allows no blob.
const longestSide = 2400;

function readPicture(address) {
  return new Promise(function (done, failed) {
    const picture = new Image();
    picture.onload = function () { done(picture); };
    picture.onerror = function () { failed({ said: noAnswer, away: true }); };
    picture.src = address;
  });
}

const notOpened = 'This browser can\'t open that picture. Choose a JPEG or PNG, or have the ' +
  'camera save as JPEG.';

function openFile(file) {
  return new Promise(function (done, failed) {
    const reader = new FileReader();
    reader.onload = function () {
      readPicture(reader.result).then(done, function () { failed({ said: notOpened }); });
    };
    reader.onerror = function () { failed({ said: notOpened }); };
    reader.readAsDataURL(file);
  });
}

// canvasOf draws a picture, its longer side at most so many pixels.
function canvasOf(picture) {
  const w = picture.naturalWidth;
  const h = picture.naturalHeight;
  const to = Math.min(1, longestSide / Math.max(w, h));
  const canvas = made('canvas', { class: 'photo' });
  canvas.width = Math.max(1, Math.round(w * to));
  canvas.height = Math.max(1, Math.round(h * to));
  canvas.getContext('2d').drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas;
}

// turned is a canvas a quarter turn to the right.
function turned(canvas) {
  const to = made('canvas', { class: 'photo' });
  to.width = canvas.height;
  to.height = canvas.width;
  const pen = to.getContext('2d');
  pen.translate(to.width, 0);
  pen.rotate(Math.PI / 2);
  pen.drawImage(canvas, 0, 0);
  return to;
}

function jpegOf(canvas) {
  return new Promise(function (done) { canvas.toBlob(done, 'image/jpeg', .9); });
}

// chooser is a button that asks for a file, with the camera or without.
function chooser(text, camera, chosen) {
  const input = made('input', { type: 'file', accept: 'image/*', class: 'vh',
    capture: camera ? 'environment' : null, id: camera ? 'fabric-camera' : 'fabric-file' });
  input.addEventListener('change', function () {
    if (input.files[0]) { chosen(input.files[0]); }
    input.value = '';
  });
  return made('label', { class: 'button' }, [input, made('span', {}, text)]);
}

stages.push({
  name: 'take', title: 'The photo', again: 'Send again',
  next: function () { return fabric.id ? 'Next' : 'Send the photo'; },
  ready: function () { return !!fabric.canvas; },
  show: function (room) {
    const p = fabric;
    const shown = made('div', { class: 'shown' });
    const ways = made('div', { class: 'ways' });
    const commands = made('ol', { class: 'commands' }, [
      made('li', {}, 'Lay the fabric flat, right side up.'),
      made('li', {}, 'Lay a sheet of printer paper on it, square to the print.'),
      made('li', {}, 'Photograph it from straight above, with at least two repeats all round.')
    ]);
    const inner = made('p', { class: 'hint' }, headsNow() ? 'Turn it till the heads point up.'
      : 'Turn it till the border\'s inner edge is at the top.');
    function take(file) {
      tell('The picture is opened.');
      scold('');
      openFile(file).then(function (picture) {
        change(canvasOf(picture));
        tell('The photo is here.');
      }).catch(function (failed) {
        tell('');
        scold(failed.said || notOpened);
      });
    }
    function change(canvas) {
      Object.assign(p, newFabric(p.border, p.took), { canvas: canvas });
      paint();
      ready();
    }
    function paint() {
      shown.textContent = '';
      all('[data-turn]', ways).forEach(function (b) { b.remove(); });
      commands.hidden = !!p.canvas;
      inner.hidden = !p.canvas;
      if (!p.canvas) { return; }
      shown.appendChild(p.canvas);
      fitIn(p.canvas, shown, p.canvas.width, p.canvas.height);
      ways.appendChild(press('Turn it', function () { change(turned(p.canvas)); },
        { 'data-turn': '' }));
    }
    if ('ontouchstart' in window) { ways.appendChild(chooser('Use the camera', true, take)); }
    ways.appendChild(chooser('Choose a picture', false, take));
    room.appendChild(made('div', { class: 'panel' }, [commands, ways, inner]));
    room.appendChild(shown);
    paint();
    this.fit = paint;
  },
  done: function () {
    const p = fabric;
    if (p.id) { return true; }
    busy('The photo is sent.');
    return (p.blob ? Promise.resolve(p.blob) : jpegOf(p.canvas)).then(function (blob) {
      p.blob = blob;
      return sendPhoto(blob, function (part) {
        if (part < 1) { tell('The photo is sent: ' + Math.floor(part * 10) * 10 + ' %.'); }
      });
    }).then(function (kept) {
      p.id = kept.id;
      p.blob = null;
    });
  }
});

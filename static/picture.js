'use strict';
// The picture of the act over the whole screen, with all its words: a touch on it, or on its
// button where there is no room for it.
let pictureDialog = null;

function startPicture() {
  pictureDialog = dialogOf(el('picture'), function () { return el('main'); });
  el('main').addEventListener('click', function (e) {
    const see = e.target.closest('.see, .step .pic');
    if (!see) { return; }
    const pic = (view.group || view.tick).box.querySelector('.pic');
    el('picture').querySelector('.pic').innerHTML = pic.innerHTML;
    pictureDialog.open(el('picture').querySelector('button'));
  });
}

'use strict';
// What a device does not need before its first step comes after it, and what only some
// devices are set to comes to those: each a script of its own, which the page names.
function bring(name) {
  const address = document.body.dataset[name];
  if (!address) { return; }
  delete document.body.dataset[name]; // once
  document.body.appendChild(document.createElement('script')).src = address;
}

function bringWhatIsSet() { ['keys', 'voice', 'awake'].filter(setting).forEach(bring); }

function startBring() {
  bring('menu');
  bring('return');
  bring('words');
  bringWhatIsSet();
  document.addEventListener('set', bringWhatIsSet);
}

'use strict';
// The page of settings: what a pressed key or pedal is taken for, and what the voice is like.
(function () {
  const words = { back: 'back', forward: 'forward', tick: 'tick' };

  document.addEventListener('keydown', function (e) {
    if (e.repeat || e.ctrlKey || e.altKey || e.metaKey || e.key === 'Tab' || e.key === 'Shift') {
      return;
    }
    const what = takenFor(e);
    // One who comes to a button by Tab presses that.
    if (what === 'tick' && byTab && e.target.closest('a, button')) { return; }
    if (what && !byTab) { e.preventDefault(); } // the page does not scroll away from the answer
    document.getElementById('trial').textContent = 'That was: ' +
      (words[what] || e.key + ', which does nothing here') + '.';
  });

  const hear = document.getElementById('hear');
  const synth = window.speechSynthesis;
  hear.hidden = false;
  hear.addEventListener('click', function () {
    const mute = document.getElementById('mute');
    mute.textContent = '';
    const cannot = function () { mute.textContent = 'This browser can’t read aloud.'; };
    if (!synth) {
      cannot();
      return;
    }
    let begun = false;
    const says = new SpeechSynthesisUtterance(spoken('Cut it 35 1/2 in long.'));
    says.lang = 'en-US';
    says.onstart = function () { begun = true; };
    says.onerror = cannot;
    window.saying = says; // held, or some browsers let go of it
    setTimeout(function () {
      if (!begun && !synth.getVoices().length) { cannot(); }
    }, 3000);
    synth.cancel();
    synth.speak(says);
  });
}());

'use strict';
// The addresses of the session's page.
const session = document.body.dataset.id;
const base = '/s/' + session;

// stepPath is the address of a step.
function stepPath(step) { return base + '/step/' + step.id; }

'use strict';
// Says texts with static/spoken.js: node run.js SPOKEN, texts as a JSON array on standard input,
// prints what is said as another.
const fs = require('fs');
const vm = require('vm');

const texts = JSON.parse(fs.readFileSync(0, 'utf8'));
const said = vm.runInNewContext(fs.readFileSync(process.argv[2], 'utf8') + '\ntexts.map(spoken)', { texts: texts });
process.stdout.write(JSON.stringify(said));

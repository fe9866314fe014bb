// CommonJS, for a module's own folder has one name there in Node and in the test runner.
/* eslint-disable @typescript-eslint/no-require-imports */
const path = require('node:path');

module.exports = path.resolve(__dirname, '../../..');

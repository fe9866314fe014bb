// The engine needs packages that are ES modules alone, which the loader of the test runner cannot require. Here, outside
// of its modules, Node's own loader does.
/* eslint-disable @typescript-eslint/no-require-imports */
const {TestEnvironment} = require('jest-environment-node');
const univer = require('../../../src/host/node/univer.cjs');

module.exports = class extends TestEnvironment {
  async setup() {
    await super.setup();
    this.global.univerOfNode = univer;
  }
};

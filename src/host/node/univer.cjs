// CommonJS, because the engine's ESM build does not load in Node: a package that it imports has no named exports there.
/* eslint-disable @typescript-eslint/no-require-imports */

module.exports = {
  core: require('@univerjs/presets'),
  formula: require('@univerjs/preset-sheets-node-core'),
};

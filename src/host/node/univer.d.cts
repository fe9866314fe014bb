import type * as Core from '@univerjs/presets';
import type * as Formula from '@univerjs/preset-sheets-node-core';

declare const loaded: {
  readonly core: typeof Core;
  readonly formula: typeof Formula;
};
export = loaded;

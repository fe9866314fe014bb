/** The files of packages that the host page loads, each of which is served and nothing else of its package. */

/** In the order in which the page needs its scripts. */
export const VENDOR_SCRIPTS = [
  'react/umd/react.production.min.js',
  'react-dom/umd/react-dom.production.min.js',
  'rxjs/dist/bundles/rxjs.umd.min.js',
  '@univerjs/presets/lib/umd/index.js',
  '@univerjs/preset-sheets-core/lib/umd/index.js',
  '@univerjs/preset-sheets-core/lib/umd/locales/en-US.js',
  '@univerjs/preset-sheets-conditional-formatting/lib/umd/index.js',
  '@univerjs/preset-sheets-conditional-formatting/lib/umd/locales/en-US.js',
  '@univerjs/preset-sheets-drawing/lib/umd/index.js',
  '@univerjs/preset-sheets-drawing/lib/umd/locales/en-US.js',
] as const;

export const VENDOR_STYLES = [
  '@univerjs/preset-sheets-core/lib/index.css',
  '@univerjs/preset-sheets-conditional-formatting/lib/index.css',
  '@univerjs/preset-sheets-drawing/lib/index.css',
] as const;

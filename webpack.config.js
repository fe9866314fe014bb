/**
 * Builds dist/, the add-in as static files (functions bundle, Excel's metadata derived from the declarations, pages), and
 * out/host/, the script of the workbook host's own page.
 *
 * Pages name office.js by its official address; the workbook host puts the copy of the npm package in its place.
 */
import {readdirSync, readFileSync} from 'node:fs';
import path from 'node:path';
import {fileURLToPath} from 'node:url';
import HtmlWebpackPlugin from 'html-webpack-plugin';
import {tsImport} from 'tsx/esm/api';
import webpack from 'webpack';

const root = path.dirname(fileURLToPath(import.meta.url));
const icons = path.join(root, 'assets', 'icons');

/** What is derived from the declarations (Excel's metadata of the functions, manifest, reference page), and the icons. */
class DerivedFiles {
  apply(compiler) {
    compiler.hooks.thisCompilation.tap('DerivedFiles', (compilation) => {
      compilation.hooks.processAssets.tapPromise(
        {name: 'DerivedFiles', stage: webpack.Compilation.PROCESS_ASSETS_STAGE_ADDITIONAL},
        async () => {
          const {derivedFiles} = await tsImport('./src/tools/build/derived.ts', import.meta.url);
          const source = readFileSync(path.join(root, 'manifest', 'manifest.xml'), 'utf8');
          const files = Object.entries(derivedFiles(source, process.env.ADDIN_URL));
          for (const icon of readdirSync(icons).filter((name) => name.endsWith('.png'))) {
            files.push([`icons/${icon}`, readFileSync(path.join(icons, icon))]);
          }
          for (const [name, content] of files) compilation.emitAsset(name, new webpack.sources.RawSource(content));
        },
      );
    });
  }
}

const {EDITION} = await tsImport('./src/functions/edition.ts', import.meta.url);

/**
 * What the library of distributions brings along for engines without it, a twentieth of the script of the functions: what
 * Excel runs in has it, and to the last bit the same but for the last four, which only one degree of freedom asks for.
 */
const native = {
  '@stdlib/array-float64': 'Float64Array',
  '@stdlib/array-uint8': 'Uint8Array',
  '@stdlib/array-uint16': 'Uint16Array',
  '@stdlib/array-uint32': 'Uint32Array',
  '@stdlib/math-base-special-abs': 'Math.abs',
  '@stdlib/math-base-special-ceil': 'Math.ceil',
  '@stdlib/math-base-special-floor': 'Math.floor',
  '@stdlib/math-base-special-max': 'Math.max',
  '@stdlib/math-base-special-min': 'Math.min',
  '@stdlib/math-base-special-sqrt': 'Math.sqrt',
  '@stdlib/math-base-special-trunc': 'Math.trunc',
  '@stdlib/math-base-special-acos': 'Math.acos',
  '@stdlib/math-base-special-asin': 'Math.asin',
  '@stdlib/math-base-special-cos': 'Math.cos',
  '@stdlib/math-base-special-sin': 'Math.sin',
};

const common = {
  mode: 'production',
  externals: native,
  resolve: {
    extensions: ['.ts', '.tsx', '.js'],
    alias: {
      '@stdlib/assert-has-generator-support$': path.join(root, 'src', 'entry', 'generatorSupport.cjs'),
      '@stdlib/utils-define-nonenumerable-read-only-property$': path.join(root, 'src', 'entry', 'readOnly.cjs'),
    },
  },
  module: {
    rules: [
      {
        test: /\.tsx?$/,
        loader: 'ts-loader',
        // Types are checked by `npm run typecheck`; here only translation is wanted.
        options: {transpileOnly: true, compilerOptions: {noEmit: false}},
      },
    ],
  },
  devtool: 'source-map',
  performance: {hints: false},
};

const addIn = {
  ...common,
  name: 'add-in',
  // Functions first: a workbook calculates before anybody looks at the pane, which builds on the same modules.
  entry: {
    functions: './src/entry/functions.ts',
    taskpane: {import: './src/entry/taskpane.ts', dependOn: 'functions'},
  },
  output: {
    path: path.join(root, 'dist'),
    clean: {keep: /^\.built$/},
    chunkFilename: '[name].js',
    publicPath: '',
    // The workbook host runs the functions without a window.
    globalObject: 'globalThis',
  },
  // What writes workings down is one file, which the workbook host runs before the functions: it cannot fetch any.
  optimization: {splitChunks: {chunks: (chunk) => chunk.name !== 'working' && !chunk.canBeInitial()}},
  plugins: [
    new DerivedFiles(),
    // The pane's own edition: functions.js brings another of its own, and a browser may keep one of the two for long.
    new webpack.DefinePlugin({
      PANE_EDITION: JSON.stringify(EDITION),
      DEVELOPMENT_BUILD: JSON.stringify(process.env.ADDIN_URL === undefined),
    }),
    new HtmlWebpackPlugin({
      filename: 'taskpane.html',
      template: './src/entry/taskpane.html',
      chunks: ['functions', 'taskpane'],
      chunksSortMode: 'manual',
      scriptLoading: 'blocking',
      minify: false,
    }),
  ],
};

const host = {
  ...common,
  name: 'host',
  entry: {host: './src/host/browser/page.ts'},
  // The reader of workbooks asks for these in Node.js alone.
  resolve: {...common.resolve, fallback: {zlib: false, 'fs/promises': false}},
  output: {path: path.join(root, 'out', 'host'), clean: {keep: /^\.built$/}},
};

export default [addIn, host];

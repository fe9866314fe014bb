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

const common = {
  mode: 'production',
  resolve: {
    extensions: ['.ts', '.tsx', '.js'],
    alias: {'@stdlib/assert-has-generator-support$': path.join(root, 'src', 'entry', 'generatorSupport.cjs')},
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

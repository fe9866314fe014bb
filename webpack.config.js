/**
 * Builds dist/: the functions bundle and Excel's metadata of the functions, which is derived from the same declarations.
 */
import path from 'node:path';
import {fileURLToPath} from 'node:url';
import {tsImport} from 'tsx/esm/api';
import webpack from 'webpack';

const root = path.dirname(fileURLToPath(import.meta.url));

/** Emits functions.json from the catalogue. */
class FunctionsMetadata {
  apply(compiler) {
    compiler.hooks.thisCompilation.tap('FunctionsMetadata', (compilation) => {
      compilation.hooks.processAssets.tapPromise(
        {name: 'FunctionsMetadata', stage: webpack.Compilation.PROCESS_ASSETS_STAGE_ADDITIONAL},
        async () => {
          const {metadata} = await tsImport('./src/functions/metadata.ts', import.meta.url);
          compilation.emitAsset('functions.json', new webpack.sources.RawSource(JSON.stringify(metadata(), null, 1)));
        },
      );
    });
  }
}

export default {
  mode: 'production',
  entry: {functions: './src/entry/functions.ts'},
  output: {path: path.join(root, 'dist'), clean: true},
  resolve: {extensions: ['.ts', '.tsx', '.js']},
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
  plugins: [new FunctionsMetadata()],
  devtool: 'source-map',
  performance: {hints: false},
};

/** `npm run excel` and `npm run excel:web`. */
import path from 'node:path';
import {fileURLToPath} from 'node:url';
import {parseArgs} from 'node:util';
import {DEVELOPMENT_URL} from '../build/manifest';
import {findExcel} from './find';
import {serveFolder} from './serve';
import {HELP, webWords, withoutExcel} from './words';

const dist = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../../dist');
const manifest = path.join(dist, 'manifest.xml');
const port = Number(new URL(DEVELOPMENT_URL).port);

const {values} = parseArgs({options: {help: {type: 'boolean'}, web: {type: 'boolean'}}});

if (values.help) console.log(HELP);
else if (values.web) await web();
else await desktop();

async function desktop(): Promise<void> {
  const excel = findExcel();
  if (!excel.found) {
    console.error(withoutExcel(excel));
    process.exitCode = 1;
    return;
  }
  await serve();
  const {AppType, startDebugging, stopDebugging} = (await import('office-addin-debugging')).default;
  try {
    await startDebugging(manifest, {appType: AppType.Desktop, enableDebugging: false});
  } catch (error) {
    console.error(
      `Excel could not be opened with the add-in: ${error instanceof Error ? error.message : String(error)}`,
    );
    process.exit(1);
  }
  console.log('Excel opens with the add-in: type =WHEELDEV. in a cell, or look for its group on the Home tab.');
  console.log('Ctrl+C ends it.');
  process.once('SIGINT', () => void stopDebugging(manifest).finally(() => process.exit()));
}

async function web(): Promise<void> {
  console.log(webWords(DEVELOPMENT_URL));
  await serve();
  console.log('\nServing. Ctrl+C ends it.');
}

/** The only place where a certificate is asked for. */
async function serve(): Promise<void> {
  const {getHttpsServerOptions} = (await import('office-addin-dev-certs')).default;
  try {
    await serveFolder(dist, await getHttpsServerOptions(), port);
  } catch (error) {
    const {code, message} = error as {code?: string; message?: string};
    console.error(
      code === 'EADDRINUSE'
        ? `Port ${port} is taken, perhaps by \`npm start\`: end that first. The manifest names this port.`
        : `dist/ cannot be served over https: ${message ?? String(error)}`,
    );
    process.exit(1);
  }
}

/** What the workbook host serves: its page, the add-in as built, office.js from its package and the demo workbook. */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import ExcelJS from 'exceljs';
import express, {type Express, type NextFunction, type Request, type Response} from 'express';
import {VENDOR_SCRIPTS, VENDOR_STYLES} from './vendor';

export interface Served {
  /** The folder of the repository. */
  readonly root: string;
  /** The add-in as built; dist/ by default. */
  readonly dist?: string | undefined;
  /** Further folders, by the path under which they are served. */
  readonly folders?: Readonly<Record<string, string>> | undefined;
}

/** The host page: scripts of this server alone; the grid writes style elements. */
const PAGE_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "frame-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

const PAGE_FOLDER = 'src/host/browser';

/** Files of the repository, by the path under which they are served. */
const SINGLE = {
  '/icon.svg': 'assets/icons/icon.svg',
  '/demo.xlsx': 'assets/demo.xlsx',
  '/page.css': `${PAGE_FOLDER}/page.css`,
};

async function emptyWorkbook(): Promise<ArrayBuffer> {
  const workbook = new ExcelJS.Workbook();
  workbook.addWorksheet('Sheet1');
  return (await workbook.xlsx.writeBuffer()) as ArrayBuffer;
}

const files = (folder: string) => express.static(folder, {index: false, dotfiles: 'deny', redirect: false, etag: true});

export function hostApp({root, dist = path.join(root, 'dist'), folders = {}}: Served): Express {
  const app = express();
  app.disable('x-powered-by');
  app.use(onlyFromHere, (_request, response, next) => {
    response.set({'Cache-Control': 'no-cache', 'X-Content-Type-Options': 'nosniff', 'Referrer-Policy': 'no-referrer'});
    next();
  });
  app.get('/', (_request, response) => {
    response.set('Content-Security-Policy', PAGE_POLICY).type('html').send(hostPage(root));
  });
  for (const [at, file] of Object.entries(SINGLE)) {
    app.get(at, (_request, response) => response.sendFile(file, {root}));
  }
  app.get('/empty.xlsx', async (_request, response) => {
    response.type('xlsx').send(Buffer.from(await emptyWorkbook()));
  });
  app.use('/host', files(path.join(root, 'out', 'host')));
  app.get('/dist/taskpane.html', (_request, response) => {
    response.type('html').send(withLocalOffice(readFileSync(path.join(dist, 'taskpane.html'), 'utf8')));
  });
  app.use('/dist', files(dist));
  app.use('/office', inSmallLetters, files(path.join(root, 'node_modules', '@microsoft', 'office-js', 'dist')));
  for (const file of [...VENDOR_SCRIPTS, ...VENDOR_STYLES]) {
    app.get(`/vendor/${file}`, (_request, response) => response.sendFile(`node_modules/${file}`, {root}));
  }
  for (const [at, folder] of Object.entries(folders)) app.use(at, files(folder));
  app.use((_request, response) => void response.status(404).type('text').send('There is nothing here.'));
  app.use((error: Error & {status?: number}, _request: Request, response: Response, next: NextFunction) => {
    if (response.headersSent) return next(error);
    const status = error.status ?? 500;
    return response
      .status(status)
      .type('text')
      .send(status === 500 ? error.message : 'There is nothing here.');
  });
  return app;
}

/** Pages of other names that lead to this machine are refused. */
function onlyFromHere({headers}: Request, response: Response, next: NextFunction): void {
  if (/^(localhost|127\.0\.0\.1)(:\d+)?$/i.test(headers.host ?? '')) next();
  else response.status(403).type('text').send('This server answers to localhost alone.');
}

function hostPage(root: string): string {
  const page = readFileSync(path.join(root, PAGE_FOLDER, 'page.html'), 'utf8');
  const styles = VENDOR_STYLES.map((file) => `<link rel="stylesheet" href="/vendor/${file}" />`);
  const scripts = VENDOR_SCRIPTS.map((file) => `<script src="/vendor/${file}"></script>`);
  return page.replace('<!-- styles -->', styles.join('\n    ')).replace('<!-- scripts -->', scripts.join('\n    '));
}

/** The page of the pane with the local office.js in place of the official one. */
export const withLocalOffice = (page: string): string =>
  page.replace(/(<script\b[^>]*\bsrc=)(["']?)https:\/\/[^"'\s>]*\/office\.js\2/g, '$1$2/office/office.js$2');

/** office.js asks for some of its folders in another letter case than its package has them. */
function inSmallLetters(request: Request, _response: Response, next: NextFunction): void {
  const end = request.url.lastIndexOf('/');
  request.url = request.url.slice(0, end).toLowerCase() + request.url.slice(end);
  next();
}

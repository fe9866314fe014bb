/** Trying the add-in in Excel: what can be tested where there is no Excel. */
import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import https from 'node:https';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {generate} from 'selfsigned';
import {findExcel, type Machine} from '../../src/tools/excel/find';
import {portOf, serveFolder} from '../../src/tools/excel/serve';
import {webWords, withoutExcel} from '../../src/tools/excel/words';

const machine = (parts: Partial<Machine>): Machine => ({
  platform: 'linux',
  exists: () => false,
  succeeds: () => false,
  ...parts,
});

describe('finding Excel', () => {
  test('on macOS by its application', () => {
    const exists = (file: string): boolean => file === '/Applications/Microsoft Excel.app';
    expect(findExcel(machine({platform: 'darwin', exists}))).toEqual({platform: 'darwin', found: true});
    expect(findExcel(machine({platform: 'darwin'})).found).toBe(false);
  });

  test('on Windows by what is registered, for all or for this user', () => {
    const asked: string[] = [];
    const succeeds = (command: string, args: readonly string[]): boolean => {
      asked.push(`${command} ${args.join(' ')}`);
      return args[1].startsWith('HKCU');
    };
    expect(findExcel(machine({platform: 'win32', succeeds})).found).toBe(true);
    expect(asked).toHaveLength(2);
    expect(asked[0]).toMatch(/^reg query HKLM\\SOFTWARE\\.*excel\.exe$/);
  });

  test('elsewhere there is none, and the words say what to do instead', () => {
    const found = findExcel(machine({exists: () => true, succeeds: () => true}));
    expect(found.found).toBe(false);
    expect(withoutExcel(found)).toMatch(/runs on Windows and macOS; this machine runs linux/);
    expect(withoutExcel(found)).toMatch(/npm run excel:web/);
    expect(withoutExcel({platform: 'win32', found: false})).toMatch(/No desktop Excel was found/);
  });

  test('the words for Excel on the web say that nobody has seen it run', () => {
    expect(webWords('https://localhost:3000')).toMatch(/never seen this run in real Excel/);
  });
});

describe('serving dist/', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'served-'));
  writeFileSync(path.join(folder, 'manifest.xml'), '<OfficeApp/>');
  afterAll(() => rmSync(folder, {recursive: true}));

  const certificate = async () => {
    const {cert, private: key} = await generate([{name: 'commonName', value: 'localhost'}], {
      extensions: [{name: 'subjectAltName', altNames: [{type: 2, value: 'localhost'}]}],
    });
    return {cert, key};
  };

  const get = (port: number, file: string, ca: string) =>
    new Promise<{status: number | undefined; headers: NodeJS.Dict<string | string[]>; text: string}>(
      (resolve, reject) =>
        https
          .get({host: 'localhost', port, path: file, ca}, (response) => {
            let text = '';
            response.setEncoding('utf8');
            response.on('data', (part: string) => (text += part));
            response.on('end', () => resolve({status: response.statusCode, headers: response.headers, text}));
          })
          .on('error', reject),
    );

  test('files and nothing else, never kept by a browser', async () => {
    const {cert, key} = await certificate();
    const server = await serveFolder(folder, {cert, key}, 0);
    try {
      const {status, headers, text} = await get(portOf(server), '/manifest.xml', cert);
      expect([status, text]).toEqual([200, '<OfficeApp/>']);
      expect(headers['cache-control']).toBe('no-store');
      expect((await get(portOf(server), '/nothing.js', cert)).status).toBe(404);
      expect((await get(portOf(server), '/../package.json', cert)).status).toBe(404);
      await expect(serveFolder(folder, {cert, key}, portOf(server))).rejects.toMatchObject({code: 'EADDRINUSE'});
    } finally {
      server.close();
      server.closeAllConnections();
    }
  });
});

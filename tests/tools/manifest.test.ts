/**
 * The manifest against what Excel's documentation demands of its structure. The official validator asks a service, so it
 * cannot run here; no real Excel has read this file.
 */
import {execFileSync} from 'node:child_process';
import {existsSync, readFileSync} from 'node:fs';
import path from 'node:path';
import {DOMParser, type Document, type Element} from '@xmldom/xmldom';
import {
  DEVELOPMENT,
  DEVELOPMENT_URL,
  manifest,
  manifestVersion,
  PRODUCTION,
  releaseUrl,
} from '../../src/tools/build/manifest';
import {PLACEHOLDERS, publisher} from '../../src/tools/build/publisher';

const root = path.resolve(__dirname, '../..');
const source = readFileSync(path.join(root, 'manifest', 'manifest.xml'), 'utf8');
const url = 'https://wheels.example/ledger';

const read = (text: string): Document => new DOMParser().parseFromString(text, 'text/xml');
const all = (document: Document | Element, name: string): Element[] => Array.from(document.getElementsByTagName(name));
const one = (document: Document | Element, name: string): Element => all(document, name)[0];
const children = (element: Element): string[] =>
  Array.from(element.childNodes)
    .filter(({nodeType}) => nodeType === 1)
    .map(({nodeName}) => nodeName);

describe.each([
  ['production', {...PRODUCTION, url}],
  ['development', {...DEVELOPMENT, url: DEVELOPMENT_URL}],
] as const)('%s', (_, variant) => {
  const text = manifest(source, variant);
  const document = read(text);

  test('nothing is left to be filled in', () => expect(text).not.toMatch(/\{\{\w/));

  test('its parts stand in the order that the schema demands', () => {
    expect(children(document.documentElement!)).toEqual([
      'Id',
      'Version',
      'ProviderName',
      'DefaultLocale',
      'DisplayName',
      'Description',
      'IconUrl',
      'HighResolutionIconUrl',
      'SupportUrl',
      'Hosts',
      'Requirements',
      'DefaultSettings',
      'Permissions',
      'VersionOverrides',
    ]);
    const host = all(document, 'Host').find((h) => h.getAttribute('xsi:type') === 'Workbook')!;
    expect(children(host)).toEqual(['Runtimes', 'AllFormFactors', 'DesktopFormFactor']);
    expect(children(one(document, 'DesktopFormFactor'))).toEqual(['GetStarted', 'FunctionFile', 'ExtensionPoint']);
    expect(children(one(document, 'AllFormFactors'))).toEqual(['ExtensionPoint']);
    expect(children(one(one(document, 'AllFormFactors'), 'ExtensionPoint'))).toEqual([
      'Script',
      'Page',
      'Metadata',
      'Namespace',
    ]);
    expect(children(one(document, 'Resources'))).toEqual(['bt:Images', 'bt:Urls', 'bt:ShortStrings', 'bt:LongStrings']);
    expect(children(one(document, 'Group'))).toEqual(['Label', 'Icon', 'Control', 'Control', 'Control']);
    for (const control of all(document, 'Control'))
      expect(children(control)).toEqual(['Label', 'Supertip', 'Icon', 'Action']);
  });

  test('identity: a GUID of its own, a version of four numbers', () => {
    expect(one(document, 'Id').textContent).toMatch(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/);
    expect(one(document, 'Version').textContent).toMatch(/^\d+\.\d+\.\d+\.\d+$/);
    expect(one(document, 'DisplayName').getAttribute('DefaultValue')!.length).toBeLessThanOrEqual(125);
    expect(one(document, 'Description').getAttribute('DefaultValue')!.length).toBeLessThanOrEqual(250);
  });

  test('every resource that is named is there once, with a name of at most 32 characters', () => {
    const defined = ['bt:Image', 'bt:Url', 'bt:String']
      .flatMap((name) => all(one(document, 'Resources'), name))
      .map((e) => e.getAttribute('id')!);
    expect(new Set(defined).size).toBe(defined.length);
    for (const id of defined) expect(id.length).toBeLessThanOrEqual(32);
    const used = all(document, '*')
      .map((e) => e.getAttribute('resid'))
      .filter((id): id is string => !!id);
    expect([...new Set(used)].sort()).toEqual([...defined].sort());
  });

  test('texts keep to their lengths, addresses are https', () => {
    for (const string of all(one(document, 'bt:ShortStrings'), 'bt:String'))
      expect(string.getAttribute('DefaultValue')!.length).toBeLessThanOrEqual(125);
    for (const string of all(one(document, 'bt:LongStrings'), 'bt:String'))
      expect(string.getAttribute('DefaultValue')!.length).toBeLessThanOrEqual(250);
    const addresses = text.match(/"(https?:[^"]*)"/g)!.filter((a) => !/schemas\.microsoft\.com|w3\.org/.test(a));
    expect(addresses.length).toBeGreaterThan(15);
    for (const address of addresses) expect(address).toMatch(/^"https:/);
  });

  test('runtime, page, function file and pane are one page', () => {
    const resid = (element: Element) => element.getAttribute('resid');
    const pane = resid(one(document, 'Runtime'));
    expect(one(document, 'Runtime').getAttribute('lifetime')).toBe('long');
    expect(resid(one(one(document, 'Page'), 'SourceLocation'))).toBe(pane);
    expect(resid(one(document, 'FunctionFile'))).toBe(pane);
    expect(
      resid(
        one(
          all(document, 'Action').find((a) => a.getAttribute('xsi:type') === 'ShowTaskpane')!,
          'SourceLocation',
        ),
      ),
    ).toBe(pane);
    const page = all(document, 'bt:Url')
      .find((u) => u.getAttribute('id') === pane)!
      .getAttribute('DefaultValue');
    expect(one(one(document, 'DefaultSettings'), 'SourceLocation').getAttribute('DefaultValue')).toBe(page);
  });

  test('icons are there, in the size that they are named for', () => {
    const images = all(document, 'bt:Image').filter((e) => e.getAttribute('DefaultValue'));
    expect(images.length).toBe(14);
    for (const image of images) {
      const file = path.join(root, 'assets/icons', path.basename(image.getAttribute('DefaultValue')!));
      expect(existsSync(file)).toBe(true);
      const bytes = readFileSync(file);
      const size = Number(/-(\d+)\.png$/.exec(file)![1]);
      // Width and height stand at bytes 16 and 20 of a PNG.
      expect([bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual([size, size]);
    }
    const sizes = all(one(one(document, 'Group'), 'Icon'), 'bt:Image').map((e) => e.getAttribute('size'));
    for (const needed of ['16', '32', '80']) expect(sizes).toContain(needed);
  });

  test('asks for nothing that Excel LTSC 2021 lacks', () => {
    const sets = Object.fromEntries(
      all(document, 'Set').map((s) => [s.getAttribute('Name'), Number(s.getAttribute('MinVersion'))]),
    );
    expect(sets).toEqual({SharedRuntime: 1.1, CustomFunctionsRuntime: 1.3, ExcelApi: expect.any(Number)});
    expect(sets.ExcelApi).toBeLessThanOrEqual(1.14);
  });

  test('the namespace', () => {
    const namespace = all(document, 'bt:String')
      .find((s) => s.getAttribute('id') === 'Functions.Namespace')!
      .getAttribute('DefaultValue')!;
    expect(namespace).toBe(variant.namespace);
    expect(namespace.length).toBeLessThanOrEqual(32);
    expect(namespace).toMatch(/^[A-Z]+$/);
  });
});

test('development and production are two add-ins', () => {
  expect(DEVELOPMENT.id).not.toBe(PRODUCTION.id);
  expect(DEVELOPMENT.name).not.toBe(PRODUCTION.name);
  expect(DEVELOPMENT.namespace).not.toBe(PRODUCTION.namespace);
});

test('where a release is served: https alone, without a slash at the end', () => {
  expect(releaseUrl('https://wheels.example/ledger/')).toBe('https://wheels.example/ledger');
  expect(releaseUrl('https://wheels.example')).toBe('https://wheels.example');
  expect(() => releaseUrl('http://wheels.example')).toThrow(
    'ADDIN_URL must begin with https://, found http://wheels.example',
  );
  expect(() => releaseUrl('nowhere')).toThrow();
  expect(manifestVersion('1.2.3')).toBe('1.2.3.0');
});

test('addresses of who serves it: placeholders that belong to nobody, or https addresses of theirs', () => {
  expect(publisher({})).toEqual(PLACEHOLDERS);
  for (const address of Object.values(PLACEHOLDERS)) expect(new URL(address).hostname).toBe('example.com');
  const own = publisher({SUPPORT_URL: 'https://wheels.example/help?a=1&b=2', PRIVACY_URL: 'https://wheels.example/p'});
  expect(own).toEqual({support: 'https://wheels.example/help?a=1&b=2', privacy: 'https://wheels.example/p'});
  expect(() => publisher({PRIVACY_URL: 'http://wheels.example'})).toThrow('PRIVACY_URL must begin with https://');
  const support = one(read(manifest(source, {...PRODUCTION, url}, own)), 'SupportUrl').getAttribute('DefaultValue');
  expect(support).toBe('https://wheels.example/help?a=1&b=2');
});

test('a build for another address is built anew', () => {
  const stamps = (environment: Record<string, string>): Record<'add-in' | 'host', string> => {
    const program =
      'const {stampFor} = await import("./src/tools/ready.mjs");' +
      'console.log(JSON.stringify({"add-in": stampFor("add-in"), host: stampFor("host")}));';
    const env = {PATH: process.env.PATH, ...environment};
    const ran = execFileSync(process.execPath, ['--input-type=module', '-e', program], {cwd: root, env});
    return JSON.parse(ran.toString()) as Record<'add-in' | 'host', string>;
  };
  const plain = stamps({});
  expect(stamps({})).toEqual(plain);
  for (const name of ['ADDIN_URL', 'SUPPORT_URL', 'PRIVACY_URL']) {
    const other = stamps({[name]: 'https://wheels.example'});
    expect(other['add-in']).not.toBe(plain['add-in']);
    expect(other.host).toBe(plain.host);
  }
});

test('every command of the ribbon that runs a function is associated by the page', () => {
  const names = all(read(manifest(source, {...PRODUCTION, url})), 'FunctionName').map(({textContent}) => textContent);
  const page = readFileSync(path.join(root, 'src/entry/taskpane.ts'), 'utf8');
  expect(names).toEqual(['fillColumns', 'traceFigure']);
  for (const name of names) expect(page).toContain(`'${name}'`);
});

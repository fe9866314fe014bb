/**
 * Programs that some tests need beside Node.js: a browser, a spreadsheet program as a judge of native formulas and of
 * what is printed, and one that reads the printed page.
 */
import {spawnSync} from 'node:child_process';
import {existsSync} from 'node:fs';
import path from 'node:path';

/** For each: the Debian package that brings it, and the names under which it may be there. */
const PROGRAMS = [
  {package: 'chromium', variable: 'CHROMIUM', names: ['chromium', 'chromium-browser', 'google-chrome']},
  {package: 'libreoffice-calc', variable: 'SOFFICE', names: ['soffice', 'libreoffice']},
  {package: 'poppler-utils', variable: 'PDFTOTEXT', names: ['pdftotext']},
];

const onPath = (name) =>
  (process.env.PATH ?? '').split(path.delimiter).some((folder) => folder !== '' && existsSync(path.join(folder, name)));

const isThere = ({variable, names}) =>
  (process.env[variable] !== undefined && existsSync(process.env[variable])) || names.some(onPath);

/**
 * Installs what is missing where that is possible without asking anybody: as root on Debian and its relatives.
 * @returns what is missing still, one sentence each
 */
export function findPrograms() {
  const missing = PROGRAMS.filter((program) => !isThere(program));
  if (missing.length > 0 && process.getuid?.() === 0 && onPath('apt-get')) {
    const packages = missing.map((program) => program.package);
    console.error(`Installing ${packages.join(' and ')} (once) …`);
    const apt = (...args) =>
      spawnSync('apt-get', ['-q', '-y', ...args], {
        stdio: ['ignore', 'ignore', 'inherit'],
        env: {...process.env, DEBIAN_FRONTEND: 'noninteractive'},
      });
    apt('update');
    apt('install', '--no-install-recommends', ...packages);
  }
  return PROGRAMS.filter((program) => !isThere(program)).map(
    ({package: name, variable}) =>
      `${name} is missing, and the tests that need it fail: install it, or name its program in ${variable}`,
  );
}

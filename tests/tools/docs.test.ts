import {readFileSync} from 'node:fs';
import path from 'node:path';
import {CATALOGUE} from '../../src/functions/catalogue';
import {referencePage} from '../../src/tools/docs/reference';

test('the reference page is that of the declarations (else: npm run docs)', () => {
  expect(readFileSync(path.join(__dirname, '../../assets/reference.md'), 'utf8')).toBe(referencePage());
});

test('every function has arguments, unit, example, mathematics and source on it', () => {
  const page = referencePage();
  for (const {name, arguments: list, example, mathematics, source} of CATALOGUE) {
    const [entry] = page
      .slice(page.indexOf(`### WHEEL.${name}\n`))
      .slice(4)
      .split('\n### ');
    for (const argument of list) expect(entry).toContain(`| ${argument.name} |`);
    expect(entry).toContain(example.formula);
    if (mathematics !== 'None.') expect(entry).toContain('Mathematics: ');
    if (source !== 'none needed') expect(entry).toContain(`Source: ${source}`);
  }
});

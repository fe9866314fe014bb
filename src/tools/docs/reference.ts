/** The reference page of the worksheet functions, in Markdown, from their declarations. */
import {CATALOGUE, NAMESPACE} from '../../functions/catalogue';
import type {Argument, Declaration} from '../../functions/declare';
import {VERSION} from '../../functions/edition';

const HEAD = `# The worksheet functions

Written from the declarations of edition ${VERSION} by \`npm run docs\`; do not edit.

A vector is two cells: amount, then angle in degrees from the valve hole. Runout amounts are peak-to-peak, unbalance amounts are correction masses. Angles increase in the direction in which the readings are numbered. Arguments in brackets may be left out. Where a function gives several figures, \`part\` (a name in any letter case, or a number from 1) picks one, and in a table \`row\` a row.

Every function refuses cells of the wrong kind with \`#VALUE!\` and a message that names argument and cell; what else it refuses is listed. Excel hands a blank cell over as 0: write \`IF(range="","",range)\` around readings.
`;

export function referencePage(): string {
  const families = [...new Set(CATALOGUE.map(({family}) => family))];
  return [
    HEAD,
    ...families.map((family) => {
      const list = CATALOGUE.filter((declared) => declared.family === family);
      return [`## ${family}`, ...list.map(entry)].join('\n\n');
    }),
  ].join('\n');
}

function entry(d: Declaration): string {
  const lines = [
    `### ${NAMESPACE}.${d.name}`,
    `\`${signature(d)}\``,
    d.summary,
    ...(d.arguments.length === 0 ? [] : [table(['argument', 'what it is', 'takes'], d.arguments.map(argumentRow))]),
    table(
      [d.answers === 'row' || d.answers === 'table' ? 'part' : 'answer', 'what it is', 'unit'],
      Object.entries(d.parts).map(([name, {says, unit, absent}]) => [
        d.answers === 'row' || d.answers === 'table' ? name : shape(d),
        absent === undefined || absent === '' ? says : `${says} (\`#N/A\`: ${absent})`,
        unit,
      ]),
    ),
    `Example: \`${d.example.formula}\` gives ${given(d)}.`,
    ...(d.mathematics === 'None.' ? [] : [`Mathematics: ${d.mathematics}`]),
    ...(d.errors.length === 0 ? [] : [`Refuses: ${d.errors.join('; ')}.`]),
    ...(d.source === 'none needed' ? [] : [`Source: ${d.source}.`]),
    ...d.notes.map((note) => `* ${note}`),
  ];
  return lines.join('\n\n').replace(/(^|\n)(\* .*)\n\n(?=\* )/g, '$1$2\n');
}

const shape = ({answers}: Declaration): string => (answers === 'cell' ? 'one cell' : 'cells');

function signature(d: Declaration): string {
  const list = d.arguments.map(({name, optional, repeating}) => {
    const written = repeating ? `${name} …` : name;
    return optional ? `[${written}]` : written;
  });
  return `${NAMESPACE}.${d.name}(${list.join(', ')})`;
}

function argumentRow({name, says, takes, optional, standsFor}: Argument): string[] {
  const without = optional && standsFor !== undefined ? `; left out: ${standsFor}` : '';
  return [name, says, `${takes}${without}`];
}

const given = ({example}: Declaration): string =>
  `\`${example.gives.map((row) => row.map((cell) => JSON.stringify(cell)).join(', ')).join('; ')}\``;

/** A Markdown table; a bar within a cell would end it. */
function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replace(/\|/g, '\\|')).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

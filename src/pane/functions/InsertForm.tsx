import {Button, Field, Input} from '@fluentui/react-components';
import {useEffect, useState} from 'react';
import type {Declaration} from '../../functions/declare';
import {Refusal} from '../../maths/refusal';
import type {Area} from '../../workbook/addresses';
import {readReference, referenceFrom} from '../../workbook/insert';
import {usePageStyles} from '../shared/styles';
import {cellsOf, formulaOf} from './formula';
import {WriteFormula} from './WriteFormula';

interface Props {
  readonly declared: Declaration;
  readonly selection: Area | undefined;
}

/** What the arguments typed so far give, in words. */
type Preview = {readonly kind: 'figures' | 'refused' | 'unknown'; readonly words: string};

async function preview(declared: Declaration, typed: readonly string[], sheet: string): Promise<Preview> {
  try {
    const args = await cellsOf(declared, typed, (reference) => readReference(reference, sheet));
    if (args === undefined) return {kind: 'unknown', words: 'The result shows once the formula stands in the sheet.'};
    const rows = declared.evaluate(args);
    const cells = rows.slice(0, 4).map((row) => row.slice(0, 8).map(shown).join(', '));
    return {kind: 'figures', words: `Gives ${cells.join('; ')}${rows.length > 4 ? ' …' : ''}`};
  } catch (error) {
    return {kind: 'refused', words: (error as Error).message};
  }
}

const shown = (cell: unknown): string =>
  cell instanceof Refusal ? '#N/A' : typeof cell === 'number' ? String(Number(cell.toPrecision(6))) : String(cell);

/** One field an argument, filled by typing or from the selection; the first one is the selection to begin with. */
export function InsertForm({declared, selection}: Props) {
  const page = usePageStyles();
  const list = declared.arguments.filter(({repeating}) => !repeating);
  const sheet = selection?.sheet ?? '';
  const [typed, setTyped] = useState<readonly string[]>(() => {
    const many = selection !== undefined && selection.rows * selection.columns > 1;
    return list.map((_, i) => (i === 0 && many ? referenceFrom(selection, sheet) : ''));
  });
  const [shownPreview, setPreview] = useState<Preview>();
  const [writing, setWriting] = useState(false);
  const ready = list.every(({optional}, i) => optional || typed[i].trim() !== '');

  useEffect(() => {
    if (!ready) {
      setPreview(undefined);
      return undefined;
    }
    let current = true;
    void preview(declared, typed, sheet).then((next) => {
      if (current) setPreview(next);
    });
    return () => {
      current = false;
    };
  }, [declared, typed, sheet, ready]);

  const put = (index: number, text: string): void => setTyped(typed.map((old, i) => (i === index ? text : old)));
  const formula = formulaOf(declared, typed);
  return (
    <section className={page.stack} aria-labelledby="insert">
      <h2 id="insert" className={page.heading}>
        Insert
      </h2>
      {list.map(({name, says, optional, standsFor}, i) => (
        <Field
          key={name}
          label={optional ? `${name} (may be left out${standsFor === undefined ? '' : `: ${standsFor}`})` : name}
          hint={says}
          size="small"
        >
          <div className={page.row}>
            <Input
              size="small"
              value={typed[i]}
              onChange={(_, {value}) => put(i, value)}
              aria-label={name}
              placeholder="A1:B2, or a value"
            />
            <Button
              size="small"
              disabled={selection === undefined}
              aria-label={`Use selection for ${name}`}
              onClick={() => put(i, referenceFrom(selection!, sheet))}
            >
              Use selection
            </Button>
          </div>
        </Field>
      ))}
      <p style={{overflowWrap: 'anywhere'}}>
        <code>{formula}</code>
      </p>
      {shownPreview !== undefined && (
        <p role={shownPreview.kind === 'refused' ? 'alert' : 'status'}>{shownPreview.words}</p>
      )}
      <div className={page.row}>
        <Button appearance="primary" size="small" disabled={!ready} onClick={() => setWriting(true)}>
          Insert into the sheet
        </Button>
      </div>
      {writing && <WriteFormula formula={formula} selection={selection} onDone={() => undefined} />}
    </section>
  );
}

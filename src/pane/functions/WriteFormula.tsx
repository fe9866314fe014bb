import {Button, Field, Input} from '@fluentui/react-components';
import {useState} from 'react';
import type {Area} from '../../workbook/addresses';
import {areaAddress, cellAddress} from '../../workbook/addresses';
import {inTheWay, insertFormula, type Inserted, type InTheWay} from '../../workbook/insert';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';

interface Props {
  readonly formula: string;
  readonly selection: Area | undefined;
  readonly onDone: (inserted: Inserted) => void;
}

/** The selected cell itself, or, where many are selected, the cell to the right of them. */
const targetFor = (selection: Area | undefined): string => {
  if (selection === undefined) return 'A1';
  const many = selection.rows * selection.columns > 1;
  return cellAddress(selection.row, many ? selection.column + selection.columns : selection.column);
};

function parseTarget(text: string): {row: number; column: number} | undefined {
  const found = /^\$?([A-Za-z]{1,3})\$?(\d{1,7})$/.exec(text.trim());
  if (found === null) return undefined;
  const column = [...found[1].toUpperCase()].reduce((n, c) => 26 * n + c.charCodeAt(0) - 64, 0) - 1;
  return {row: Number(found[2]) - 1, column};
}

/** Asks where a formula goes, and again before it would replace something. */
export function WriteFormula({formula, selection, onDone}: Props) {
  const page = usePageStyles();
  const [target, setTarget] = useState(() => targetFor(selection));
  const [blocked, setBlocked] = useState<InTheWay>();
  const [inserted, setInserted] = useState<Inserted>();
  const [problem, setProblem] = useState<string>();
  const cell = parseTarget(target);
  const area: Area | undefined =
    cell === undefined ? undefined : {sheet: selection?.sheet ?? 'Sheet1', ...cell, rows: 1, columns: 1};

  const write = async (replace: boolean): Promise<void> => {
    if (area === undefined) return;
    setProblem(undefined);
    try {
      const there = replace ? undefined : await inTheWay(area);
      setBlocked(there);
      if (there !== undefined) return;
      const done = await insertFormula(area, formula);
      setInserted(done);
      onDone(done);
    } catch (error) {
      setProblem((error as Error).message);
    }
  };

  return (
    <div className={page.stack}>
      <Field
        label={`Cell on ${selection?.sheet ?? 'this sheet'}`}
        size="small"
        {...(cell === undefined ? {validationMessage: 'One cell is wanted, such as R4.'} : {})}
      >
        <div className={page.row}>
          <Input
            size="small"
            value={target}
            onChange={(_, {value}) => {
              setTarget(value);
              setBlocked(undefined);
            }}
            aria-label="Cell for the formula"
          />
          <Button size="small" disabled={selection === undefined} onClick={() => setTarget(targetFor(selection))}>
            Use selection
          </Button>
          <Button size="small" appearance="primary" disabled={area === undefined} onClick={() => void write(false)}>
            Write
          </Button>
        </div>
      </Field>
      {blocked !== undefined && (
        <div role="alert">
          <p>
            {blocked.address} holds <code>{blocked.content}</code>. Replace it?
          </p>
          <div className={page.row}>
            <Button size="small" onClick={() => void write(true)}>
              Replace {blocked.address}
            </Button>
            <Button size="small" onClick={() => setBlocked(undefined)}>
              Leave it
            </Button>
          </div>
        </div>
      )}
      {problem !== undefined && <Problem words={problem} />}
      {inserted !== undefined && blocked === undefined && (
        <p role="status">
          Written to {areaAddress({...inserted.area, rows: 1, columns: 1})}:{' '}
          {inserted.values
            .slice(0, 4)
            .map((row) => row.slice(0, 8).join(', '))
            .join('; ')}
        </p>
      )}
    </div>
  );
}

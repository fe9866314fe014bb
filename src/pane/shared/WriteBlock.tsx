import {Button, Field, Input} from '@fluentui/react-components';
import {useEffect, useState} from 'react';
import {areaAddress, cellAddress, type Area} from '../../workbook/addresses';
import {blockSize, parseCellAddress, type Block} from '../../workbook/block';
import type {InTheWay} from '../../workbook/insert';
import {select} from '../../workbook/selection';
import {filledCells, freeCell, takeBack, writeBlock, type Written} from '../../workbook/writeBlock';
import {Problem} from './Problem';
import {usePageStyles} from './styles';

interface Props {
  /** What the button says. */
  readonly action: string;
  /** The sheet that is written to, and the row beside which there is room. */
  readonly sheet: string;
  readonly row: number;
  readonly selection: Area | undefined;
  /** The block for its upper left corner; undefined when it cannot be written. */
  readonly block: (corner: Pick<Area, 'row' | 'column'>) => Block | undefined;
}

type State =
  | {readonly kind: 'asking'}
  | {readonly kind: 'blocked'; readonly area: Area; readonly cells: readonly InTheWay[]}
  | {readonly kind: 'written'; readonly written: Written}
  | {readonly kind: 'taken back'};

/** Cells in the way that are shown one by one. */
const SHOWN = 6;

/** Puts a block of formulas into free cells; shows what would be replaced and asks; takes it back on request. */
export function WriteBlock({action, sheet, row, selection, block}: Props) {
  const page = usePageStyles();
  const [open, setOpen] = useState(false);
  const [target, setTarget] = useState('');
  const [state, setState] = useState<State>({kind: 'asking'});
  const [problem, setProblem] = useState<string>();

  const attempt = async (work: () => Promise<void>): Promise<void> => {
    setProblem(undefined);
    try {
      await work();
    } catch (error) {
      setProblem((error as Error).message);
    }
  };
  useEffect(() => {
    if (!open) return;
    void attempt(async () => {
      const {row: r, column: c} = await freeCell(sheet, row);
      setTarget(cellAddress(r, c));
    });
  }, [open, sheet, row]);

  const corner = parseCellAddress(target);
  const made = corner === undefined ? undefined : block(corner);
  const area: Area | undefined =
    corner === undefined || made === undefined ? undefined : {sheet, ...corner, ...blockSize(made)};

  const write = (agreed?: readonly InTheWay[]): Promise<void> =>
    attempt(async () => {
      if (area === undefined || made === undefined) return;
      const cells = agreed ?? (await filledCells(area));
      if (agreed === undefined && cells.length > 0) {
        setState({kind: 'blocked', area, cells});
        return;
      }
      setState({kind: 'written', written: await writeBlock(area, made, agreed)});
    });
  const change = (text: string): void => {
    setTarget(text);
    setState({kind: 'asking'});
  };

  if (!open) {
    return (
      <div className={page.row}>
        <Button size="small" onClick={() => setOpen(true)}>
          {action}
        </Button>
      </div>
    );
  }
  return (
    <div className={page.stack}>
      <Field
        label={`Upper left cell on ${sheet}`}
        {...(area === undefined ? {} : {hint: `Fills ${areaAddress(area)}.`})}
        size="small"
        {...(corner === undefined && target !== '' ? {validationMessage: 'One cell is wanted, such as R4.'} : {})}
      >
        <div className={page.row}>
          <Input
            size="small"
            value={target}
            onChange={(_, {value}) => change(value)}
            aria-label={`Upper left cell on ${sheet}`}
          />
          <Button
            size="small"
            disabled={selection?.sheet !== sheet}
            onClick={() => change(cellAddress(selection!.row, selection!.column))}
          >
            Use selection
          </Button>
          <Button size="small" appearance="primary" disabled={area === undefined} onClick={() => void write()}>
            Write
          </Button>
        </div>
      </Field>
      {corner !== undefined && made === undefined && (
        <Problem words="The ledger map does not name the cells that the formulas need." />
      )}
      {state.kind === 'blocked' && (
        <div role="alert">
          <p>
            {state.cells.length === 1 ? 'One cell there is filled:' : `${state.cells.length} cells there are filled:`}
          </p>
          <ul className={page.list}>
            {state.cells.slice(0, SHOWN).map(({address, content}) => (
              <li key={address}>
                {address}: <code>{content}</code>
              </li>
            ))}
            {state.cells.length > SHOWN && <li>and {state.cells.length - SHOWN} more</li>}
          </ul>
          <div className={page.row}>
            <Button size="small" onClick={() => void write(state.cells)}>
              Replace them
            </Button>
            <Button size="small" onClick={() => setState({kind: 'asking'})}>
              Leave them
            </Button>
          </div>
        </div>
      )}
      {problem !== undefined && <Problem words={problem} />}
      {state.kind === 'written' && (
        <div className={page.row}>
          <p role="status">Written to {areaAddress(state.written.area)}.</p>
          <Button size="small" onClick={() => void attempt(() => select(state.written.area))}>
            Go there
          </Button>
          <Button
            size="small"
            onClick={() =>
              void attempt(async () => {
                await takeBack(state.written);
                setState({kind: 'taken back'});
              })
            }
          >
            Take it back
          </Button>
        </div>
      )}
      {state.kind === 'taken back' && <p role="status">Taken back; the cells are as they were.</p>}
    </div>
  );
}

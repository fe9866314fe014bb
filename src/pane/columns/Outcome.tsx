import {Button} from '@fluentui/react-components';
import {useState} from 'react';
import type {Filled} from '../../workbook/columns/fill';
import {takeBackFilling} from '../../workbook/columns/fillWorkbook';
import type {Source} from '../../workbook/columns/source';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';

/** A filling that came to an end, and the sheet as it was before. */
export interface Filling {
  readonly filled: Exclude<Filled, {kind: 'asks'}> & {readonly mapProblem?: string};
  readonly records: Source;
}

/** Areas named before the rest is only counted. */
const FEW = 12;

interface Props {
  readonly outcome: Filling;
  readonly onTakenBack: () => void;
}

/** Exactly what was written, and a way to take it back. */
export function Outcome({outcome: {filled, records: source}, onTakenBack}: Props) {
  const page = usePageStyles();
  const [state, setState] = useState<{busy: boolean; back: boolean; problem?: string}>({busy: false, back: false});
  const {kind, records, of, cells, already, kept, written, uncertain, problem, mapProblem, undo} = filled;
  const takeBack = (): void => {
    setState({busy: true, back: false});
    takeBackFilling(source, undo).then(
      () => {
        setState({busy: false, back: true});
        onTakenBack();
      },
      (error: unknown) => setState({busy: false, back: false, problem: (error as Error).message}),
    );
  };
  if (state.back) return <p role="status">Taken back: the cells hold what they held before.</p>;
  const title = {
    done: `Filled: ${of} records, ${cells} cells.`,
    cancelled: `Stopped: ${records} of ${of} records are filled.`,
    failed: `Not finished: ${records} of ${of} records are filled.`,
  }[kind];
  return (
    <div className={page.stack}>
      {problem !== undefined && <Problem words={problem} />}
      {mapProblem !== undefined && <Problem words={mapProblem} />}
      <p role="status">
        {title}
        {already > 0 && ` ${already} cells held their formula already.`}
        {kept > 0 && ` ${kept} cells were kept as they were.`}
        {writtenWords(written, uncertain)}
        {kind !== 'done' &&
          (uncertain.length > 0 ? ' Take it back, then fill again.' : ' Fill again to go on from here.')}
      </p>
      {state.problem !== undefined && <Problem words={state.problem} />}
      {written.length + uncertain.length > 0 && (
        <div>
          <Button disabled={state.busy} onClick={takeBack}>
            Take it back
          </Button>
        </div>
      )}
    </div>
  );
}

const areas = (list: readonly string[]): string =>
  `${list.slice(0, FEW).join(', ')}${list.length > FEW ? ` and ${list.length - FEW} more areas` : ''}`;

function writtenWords(written: readonly string[], uncertain: readonly string[]): string {
  const known =
    written.length > 0 ? ` Written: ${areas(written)}.` : uncertain.length > 0 ? '' : ' Nothing was written.';
  return uncertain.length === 0
    ? known
    : `${known} Excel does not answer whether ${areas(uncertain)} ${uncertain.length === 1 ? 'was' : 'were'} written: look there.`;
}

import {Spinner} from '@fluentui/react-components';
import {useCallback, useState} from 'react';
import type {Area} from '../../workbook/addresses';
import {fullAddress} from '../../workbook/addresses';
import {select} from '../../workbook/selection';
import type {AtHand} from '../app/useLedger';
import {Problem} from '../shared/Problem';
import {fetched} from '../shared/fetched';
import {usePageStyles} from '../shared/styles';
import {lastOf, useReading} from '../shared/useReading';
import {CheckSection} from './CheckSection';
import {WrittenSheet, type NewlyWritten} from './NewSheet';
import {TracedCall} from './TracedCall';
import {figure} from './words';

/** Every figure to its formula: the selected cell taken apart, and a check of the whole workbook. */
export function TraceView({atHand}: {readonly atHand: AtHand}) {
  const page = usePageStyles();
  const selection = 'selection' in atHand ? atHand.selection : undefined;
  const [written, setWritten] = useState<NewlyWritten>();
  const go = useCallback((area: Area): void => void select(area).catch(() => undefined), []);
  return (
    <article className={page.stack}>
      <h1 className={page.heading}>Trace</h1>
      {atHand.kind === 'problem' && <Problem words={atHand.words} />}
      {written && <WrittenSheet key={written.sheet} {...written} go={go} />}
      {selection && (
        <SelectedCell
          key={fullAddress(selection)}
          selection={selection}
          atHand={atHand}
          go={go}
          onWritten={setWritten}
        />
      )}
      <CheckSection go={go} onWritten={setWritten} />
    </article>
  );
}

interface SelectedProps {
  readonly selection: Area;
  /** Another one whenever something was changed. */
  readonly atHand: AtHand;
  readonly go: (area: Area) => void;
  readonly onWritten: (written: NewlyWritten) => void;
}

function SelectedCell({selection, atHand, go, onWritten}: SelectedProps) {
  const page = usePageStyles();
  const reading = useReading(async () => {
    const {traceCell} = await fetched(() => import('../../workbook/audit/trace'));
    return traceCell(selection);
  }, [atHand]);
  if (reading.kind === 'problem') return <Problem words={reading.words} />;
  const traced = lastOf(reading);
  if (traced === undefined) return <Spinner size="small" label="Reading the cell …" />;
  const {cell, formula, shown, calls, isWhole, unknown} = traced;
  const address = fullAddress(cell);
  return (
    <section aria-label="The selected cell" className={page.stack}>
      <p>
        <strong>{address}</strong> {shown === null ? 'is blank' : `shows ${figure(shown)}`}
        {cell.row !== selection.row || cell.column !== selection.column
          ? '; the selected cell belongs to its array'
          : ''}
        .
      </p>
      {formula === undefined && (
        <p className={page.quiet}>There is no formula in it. Select a cell with a figure of a WHEEL function.</p>
      )}
      {formula !== undefined && calls.length === 0 && (
        <p className={page.quiet}>
          {unknown === undefined
            ? 'Its formula calls no WHEEL function, or did not come to one.'
            : `Its formula cannot be followed here: ${unknown}.`}
        </p>
      )}
      {calls.map((call, i) => (
        <TracedCall
          key={`${address} ${i}`}
          call={call}
          cell={cell}
          formula={formula!}
          isWhole={isWhole && i === 0}
          isInner={i > 0}
          go={go}
          onWritten={onWritten}
        />
      ))}
    </section>
  );
}

import {Link, makeStyles, tokens} from '@fluentui/react-components';
import {createElement, useState} from 'react';
import {fullAddress, type Area} from '../../workbook/addresses';
import type {Working, WorkingStep} from '../../working/workingOf';
import {usePageStyles} from '../shared/styles';
import {addressed, resultOf, unitWords} from './words';

const useStyles = makeStyles({
  steps: {margin: 0, paddingLeft: '28px', display: 'flex', flexDirection: 'column', rowGap: tokens.spacingVerticalS},
  formula: {overflowX: 'auto', paddingBlock: tokens.spacingVerticalXXS},
  result: {fontVariantNumeric: 'tabular-nums', overflowWrap: 'anywhere'},
});

/** Steps told before the rest is asked for: a long working would bury the check below it. */
const AT_FIRST = 40;

/** A working step by step: what each is, its formula, the figures put in, the result with its unit, where inputs are. */
export function Steps({working, go}: {readonly working: Working; readonly go: (area: Area) => void}) {
  const page = usePageStyles();
  const styles = useStyles();
  const [all, setAll] = useState(false);
  const steps = all ? working.steps : working.steps.slice(0, AT_FIRST);
  return (
    <section aria-label="Working">
      <h3 className={page.heading}>Working</h3>
      <ol className={styles.steps}>
        {steps.map((step) => (
          <li key={step.step} value={step.step}>
            <div className={page.quiet}>{step.says}</div>
            <Formula step={step} />
            <div className={styles.result}>
              {step.symbol} = {resultOf(step)} {unitWords(step.unit)}
            </div>
            <Origin step={step} go={go} />
          </li>
        ))}
      </ol>
      {steps.length < working.steps.length && (
        <Link as="button" onClick={() => setAll(true)}>
          Show all {working.steps.length} steps
        </Link>
      )}
      <p className={page.quiet}>Source: {working.declared.source}.</p>
    </section>
  );
}

/** Typeset by the browser; the markup is our own, made from the formula's tree. */
function Formula({step}: {readonly step: WorkingStep}) {
  const styles = useStyles();
  const lines = [step.typeset, step.typesetWithFigures].filter((line) => line !== undefined);
  return (
    <>
      {lines.map((line, i) => (
        // It may be wider than the pane, and is then moved by the keyboard too.
        <div
          key={i}
          className={styles.formula}
          tabIndex={0}
          role="group"
          aria-label={i === 0 ? step.formula : step.withFigures}
        >
          {createElement('math', {dangerouslySetInnerHTML: {__html: line}})}
        </div>
      ))}
    </>
  );
}

function Origin({step, go}: {readonly step: WorkingStep; readonly go: (area: Area) => void}) {
  const page = usePageStyles();
  if (step.kind === 'formula') return null;
  const cells = step.addresses.flatMap((address) => addressed(address) ?? []);
  const [first] = cells;
  return (
    <div className={page.quiet}>
      {step.formula}
      {first && (
        <>
          {' '}
          <Link as="button" onClick={() => go(first)} aria-label={`Go to ${fullAddress(first)}`}>
            {fullAddress(first)}
          </Link>
          {cells.length > 1 && ` and ${cells.length - 1} more`}
        </>
      )}
    </div>
  );
}

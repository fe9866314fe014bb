import {Button, Radio, RadioGroup, Spinner} from '@fluentui/react-components';
import {useState} from 'react';
import type {LedgerUnits} from '../../workbook/ledgerColumns';
import {startLedger} from '../../workbook/startLedger';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';

/** First run: a workbook without a ledger. */
export function StartLedger({onStarted}: {readonly onStarted: () => void}) {
  const styles = usePageStyles();
  const [units, setUnits] = useState<LedgerUnits>('metric');
  const [state, setState] = useState<{busy: boolean; problem?: string}>({busy: false});
  const start = (): void => {
    setState({busy: true});
    startLedger(units).then(
      () => {
        setState({busy: false});
        onStarted();
      },
      (error: unknown) => setState({busy: false, problem: (error as Error).message}),
    );
  };
  return (
    <section className={styles.stack} aria-labelledby="start">
      <h1 id="start" className={styles.heading}>
        Start a ledger
      </h1>
      <p>
        This workbook has no table of wheels with readings that Wheel Ledger recognizes. It can add one: a row for each
        wheel, with the formulas that assess it, and sheets for your limits, prices, positions and planes. Nothing that
        is there is changed.
      </p>
      <RadioGroup
        aria-label="Units of the ledger"
        value={units}
        onChange={(_, {value}) => setUnits(value as LedgerUnits)}
      >
        <Radio value="metric" label="Millimeters and grams" />
        <Radio value="us" label="Inches and ounces" />
      </RadioGroup>
      <div className={styles.row}>
        <Button appearance="primary" onClick={start} disabled={state.busy}>
          Start a ledger
        </Button>
        {state.busy && <Spinner size="tiny" label="Adding the sheets …" />}
      </div>
      {state.problem !== undefined && <Problem words={state.problem} />}
    </section>
  );
}

import {Spinner} from '@fluentui/react-components';
import type {ReactNode} from 'react';
import type {Ledger, LedgerRecord} from '../../workbook/ledger';
import type {Area} from '../../workbook/addresses';
import type {AtHand} from '../app/useLedger';
import {StartLedger} from '../wheel/StartLedger';
import {Problem} from './Problem';

/** A ledger, and the record that the selection is on. */
export interface LedgerAtHand {
  readonly ledger: Ledger;
  readonly record: LedgerRecord | undefined;
  readonly selection: Area;
}

interface Props {
  readonly atHand: AtHand;
  readonly lookAgain: () => void;
  readonly children: (found: LedgerAtHand) => ReactNode;
}

/** What stands in a view that needs a ledger while there is none. */
export function LedgerGate({atHand, lookAgain, children}: Props) {
  switch (atHand.kind) {
    case 'reading':
      return <Spinner size="small" label="Reading the workbook …" />;
    case 'problem':
      return <Problem words={atHand.words} />;
    case 'no ledger':
      return <StartLedger onStarted={lookAgain} />;
    case 'elsewhere':
      return <>{children({ledger: atHand.ledger, record: undefined, selection: atHand.selection})}</>;
    case 'record':
      return <>{children({ledger: atHand.ledger, record: atHand.record, selection: atHand.selection})}</>;
  }
}

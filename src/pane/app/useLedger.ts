import {useCallback, useEffect, useRef, useState} from 'react';
import type {Area} from '../../workbook/addresses';
import {findLedger, readRecord, type Ledger, type LedgerRecord} from '../../workbook/ledger';
import {atRest} from '../../workbook/longWork';
import {followWorkbook, readSelection, type Unfollow} from '../../workbook/selection';

/** What the selection is on. */
export type AtHand =
  | {readonly kind: 'reading'}
  | {readonly kind: 'no ledger'; readonly selection: Area}
  | {readonly kind: 'elsewhere'; readonly ledger: Ledger; readonly selection: Area}
  | {readonly kind: 'record'; readonly ledger: Ledger; readonly record: LedgerRecord; readonly selection: Area}
  | {readonly kind: 'problem'; readonly words: string};

/** Selections and changes come in bursts; the workbook is read once they pause. */
const PAUSE_MS = 80;

async function look(): Promise<AtHand> {
  const selection = await readSelection();
  const ledger = await findLedger(selection);
  if (ledger === undefined) return {kind: 'no ledger', selection};
  const record = await readRecord(ledger, selection);
  return record === undefined ? {kind: 'elsewhere', ledger, selection} : {kind: 'record', ledger, record, selection};
}

/** Follows the selection and the cells: what is at hand, and a way to look again. */
export function useLedger(): {readonly atHand: AtHand; readonly lookAgain: () => void} {
  const [atHand, setAtHand] = useState<AtHand>({kind: 'reading'});
  const turn = useRef(0);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);

  const lookNow = useCallback(() => {
    const mine = ++turn.current;
    // An answer that has been overtaken by a later question is dropped.
    const answer = (next: AtHand): void => {
      if (mine === turn.current) setAtHand(next);
    };
    look().then(answer, (error: unknown) => answer({kind: 'problem', words: (error as Error).message}));
  }, []);
  const lookAgain = useCallback(() => {
    clearTimeout(timer.current);
    timer.current = setTimeout(() => atRest(lookNow), PAUSE_MS);
  }, [lookNow]);

  useEffect(() => {
    let ended = false;
    let unfollow: Unfollow | undefined;
    followWorkbook(lookAgain, lookAgain).then(
      (end) => {
        unfollow = end;
        if (ended) end();
        // What was selected before anybody listened would otherwise go unseen.
        else lookAgain();
      },
      (error: unknown) => setAtHand({kind: 'problem', words: (error as Error).message}),
    );
    lookAgain();
    return () => {
      ended = true;
      clearTimeout(timer.current);
      unfollow?.();
    };
  }, [lookAgain]);

  return {atHand, lookAgain};
}

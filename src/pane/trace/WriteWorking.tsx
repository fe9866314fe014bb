import type {CallMade} from '../../audit/trace';
import {fullAddress, type Area} from '../../workbook/addresses';
import {workingPlan} from '../../workbook/audit/plans';
import type {Working} from '../../working/workingOf';
import {NewSheet, type NewlyWritten} from './NewSheet';
import {differenceWords, openWords} from './words';
import {fetched} from '../shared/fetched';

interface Props {
  readonly working: Working;
  readonly cell: Area;
  readonly formula: string;
  readonly isWhole: boolean;
  readonly answer: CallMade['answer'];
  readonly onWritten: (written: NewlyWritten) => void;
}

/** Writes the working as native formulas, which Excel calculates without us, and shows the difference. */
export function WriteWorking({working, cell, formula, isWhole, answer, onWritten}: Props) {
  return (
    <NewSheet
      action="Write the working to a sheet"
      onWritten={onWritten}
      write={async ({writeSheet, readCells}) => {
        const {writeWorking} = await fetched(() => import(/* webpackChunkName: "working" */ '../../working/workingOf'));
        const laid = writeWorking(working, {
          title: `Working of ${fullAddress(cell)}`,
          note: formula,
          firstRow: 0,
          // Within another formula the function's figure stands nowhere, and is written as it is today.
          ...(isWhole ? {answer: {...cell, rows: answer.length, columns: answer[0].length}} : {}),
        });
        if ('refused' in laid) return {refused: laid.refused};
        const sheet = await writeSheet(workingPlan(laid), false);
        const differences = await readCells(sheet, laid.differences);
        return {
          sheet,
          said: [
            `Difference to the function’s ${differences.length === 1 ? 'figure' : 'figures'} when it was written: ${differenceWords(differences, answer.flat())}.`,
            ...openWords(working),
          ].join(' '),
        };
      }}
    />
  );
}

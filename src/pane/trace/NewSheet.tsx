import {Button, Spinner} from '@fluentui/react-components';
import {useState} from 'react';
import type {Area} from '../../workbook/addresses';
import {Problem} from '../shared/Problem';
import {fetched} from '../shared/fetched';
import {usePageStyles} from '../shared/styles';

type Sheets = typeof import('../../workbook/audit/sheets');

/** A sheet that was added. */
export interface NewlyWritten {
  readonly sheet: string;
  readonly said: string;
}

interface Props {
  readonly action: string;
  readonly write: (sheets: Sheets) => Promise<NewlyWritten | {readonly refused: string}>;
  /** The selection may have moved by then, and what was traced with it. */
  readonly onWritten: (written: NewlyWritten) => void;
}

/** Adds a sheet of its own, so that nothing of the user's is touched. */
export function NewSheet({action, write, onWritten}: Props) {
  const page = usePageStyles();
  const [writing, setWriting] = useState(false);
  const [problem, setProblem] = useState<string>();
  const attempt = async (): Promise<void> => {
    setWriting(true);
    setProblem(undefined);
    try {
      const outcome = await write(await fetched(() => import('../../workbook/audit/sheets')));
      if ('refused' in outcome) setProblem(outcome.refused);
      else onWritten(outcome);
    } catch (error) {
      setProblem((error as Error).message);
    }
    setWriting(false);
  };
  return (
    <>
      <div className={page.row}>
        <Button size="small" disabled={writing} onClick={() => void attempt()}>
          {action}
        </Button>
        {writing && <Spinner size="tiny" label="Writing …" />}
      </div>
      {problem !== undefined && <Problem words={problem} />}
    </>
  );
}

interface WrittenProps extends NewlyWritten {
  readonly go: (area: Area) => void;
}

/** Says what was written, leads there, and takes it back on request. */
export function WrittenSheet({sheet, said, go}: WrittenProps) {
  const page = usePageStyles();
  const [taken, setTaken] = useState(false);
  const [problem, setProblem] = useState<string>();
  const takeBack = async (): Promise<void> => {
    setProblem(undefined);
    try {
      const {removeSheet} = await fetched(() => import('../../workbook/audit/sheets'));
      await removeSheet(sheet);
      setTaken(true);
    } catch (error) {
      setProblem((error as Error).message);
    }
  };
  if (taken) return <p role="status">Taken back; the sheet is gone.</p>;
  return (
    <section aria-label="What was written" className={page.stack}>
      <p role="status">
        Written to the new sheet “{sheet}”. {said}
      </p>
      <div className={page.row}>
        <Button size="small" onClick={() => go({sheet, row: 0, column: 0, rows: 1, columns: 1})}>
          Go to the sheet
        </Button>
        <Button size="small" onClick={() => void takeBack()}>
          Take it back
        </Button>
      </div>
      {problem !== undefined && <Problem words={problem} />}
    </section>
  );
}

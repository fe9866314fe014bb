import {Button, Spinner} from '@fluentui/react-components';
import {useState} from 'react';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';

type Sheets = typeof import('../../workbook/audit/sheets');

/** What was written, or why it was not. */
type Outcome = {readonly sheet: string; readonly said: string} | {readonly refused: string};

type State =
  | {readonly kind: 'asked'}
  | {readonly kind: 'writing'}
  | {readonly kind: 'done'; readonly sheet: string; readonly said: string}
  | {readonly kind: 'refused'; readonly words: string}
  | {readonly kind: 'taken back'};

interface Props {
  readonly action: string;
  readonly write: (sheets: Sheets) => Promise<Outcome>;
}

/** Adds a sheet of its own, so that nothing of the user's is touched, and takes it back on request. */
export function NewSheet({action, write}: Props) {
  const page = usePageStyles();
  const [state, setState] = useState<State>({kind: 'asked'});
  const attempt = async (work: (sheets: Sheets) => Promise<State>): Promise<void> => {
    setState({kind: 'writing'});
    try {
      setState(await work(await import('../../workbook/audit/sheets')));
    } catch (error) {
      setState({kind: 'refused', words: (error as Error).message});
    }
  };
  return (
    <div className={page.stack}>
      <div className={page.row}>
        <Button
          size="small"
          disabled={state.kind === 'writing'}
          onClick={() =>
            void attempt(async (sheets) => {
              const outcome = await write(sheets);
              return 'refused' in outcome ? {kind: 'refused', words: outcome.refused} : {kind: 'done', ...outcome};
            })
          }
        >
          {action}
        </Button>
        {state.kind === 'writing' && <Spinner size="tiny" label="Writing …" />}
        {state.kind === 'done' && (
          <Button
            size="small"
            onClick={() =>
              void attempt(async ({removeSheet}) => {
                await removeSheet(state.sheet);
                return {kind: 'taken back'};
              })
            }
          >
            Take it back
          </Button>
        )}
      </div>
      {state.kind === 'done' && (
        <p role="status">
          Written to the new sheet “{state.sheet}”. {state.said}
        </p>
      )}
      {state.kind === 'taken back' && <p role="status">Taken back; the sheet is gone.</p>}
      {state.kind === 'refused' && <Problem words={state.words} />}
    </div>
  );
}

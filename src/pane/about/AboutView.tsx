import {Link} from '@fluentui/react-components';
import {useEffect, useState} from 'react';
import {CATALOGUE} from '../../functions/catalogue';
import {EDITION} from '../../functions/edition';
import {metadata} from '../../functions/metadata';
import {PROBE} from '../../functions/probe';
import {usePageStyles} from '../shared/styles';

declare const PANE_EDITION: string;
/** Addresses of whoever serves the add-in. */
declare const SUPPORT_URL: string;
declare const PRIVACY_URL: string;

/** The help links depend on where the add-in is served, and a build for development has a function more. */
const comparable = ({functions, ...rest}: {readonly functions: readonly {readonly id: string}[]}): string =>
  JSON.stringify({...rest, functions: functions.filter(({id}) => id !== PROBE)}, (key, value: unknown) =>
    key === 'helpUrl' ? undefined : value,
  );

/** What Excel was told of the functions, against what runs here. */
function useExcelsList(): string {
  const [words, setWords] = useState('being compared …');
  useEffect(() => {
    fetch('functions.json')
      .then((answer) => answer.json())
      .then(
        (list: ReturnType<typeof metadata>) =>
          setWords(
            comparable(list) === comparable(metadata())
              ? 'the same'
              : 'another edition: restart Excel, which keeps its list for up to a day',
          ),
        () => setWords('not to be read just now'),
      );
  }, []);
  return words;
}

/** A page outside, which opens in a browser when somebody follows the link, and not before. */
const Outside = ({address}: {readonly address: string}) => (
  <Link href={address} target="_blank" rel="noreferrer">
    {address}
  </Link>
);

export function AboutView() {
  const page = usePageStyles();
  const list = useExcelsList();
  return (
    <article className={page.stack}>
      <h1 className={page.heading}>About Wheel Ledger</h1>
      <dl className={page.figures}>
        <dt>Functions</dt>
        <dd>
          {EDITION}, {CATALOGUE.length} functions
        </dd>
        <dt>Pane</dt>
        <dd>
          {PANE_EDITION}
          {PANE_EDITION === EDITION ? '' : ' – not the edition of the functions: reload the add-in'}
        </dd>
        <dt>Excel’s list of functions</dt>
        <dd>{list}</dd>
        <dt>Licence</dt>
        <dd>MIT, open source</dd>
        <dt>Support</dt>
        <dd>
          <Outside address={SUPPORT_URL} />
        </dd>
      </dl>
      <h2 className={page.heading}>What was never tested</h2>
      <p>
        Wheel Ledger has never run in real Excel. It is built to Excel’s documentation and tried in a local workbook
        host with a spreadsheet engine of its own.
      </p>
      <h2 className={page.heading}>What it is checked against</h2>
      <p>
        Published values with their sources stand in the folder tests/references of the source; every function’s
        mathematics and source are in the view Functions.
      </p>
      <h2 className={page.heading}>Privacy</h2>
      <p>The add-in sends nothing anywhere. It keeps no figures of its own: all of them stand in your workbook.</p>
      <p>
        Whoever serves it to you says more here: <Outside address={PRIVACY_URL} />
      </p>
    </article>
  );
}

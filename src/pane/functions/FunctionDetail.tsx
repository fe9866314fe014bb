import {Button, makeStyles, tokens} from '@fluentui/react-components';
import {useState} from 'react';
import {NAMESPACE} from '../../functions/catalogue';
import type {Declaration} from '../../functions/declare';
import type {Area} from '../../workbook/addresses';
import {usePageStyles} from '../shared/styles';
import {InsertForm} from './InsertForm';
import {WriteFormula} from './WriteFormula';

const useStyles = makeStyles({
  code: {fontFamily: tokens.fontFamilyMonospace, fontSize: tokens.fontSizeBase200, overflowWrap: 'anywhere'},
});

interface Props {
  readonly declared: Declaration;
  readonly selection: Area | undefined;
}

/** All there is to know of a function, and ways to put it into the sheet. */
export function FunctionDetail({declared, selection}: Props) {
  const page = usePageStyles();
  const styles = useStyles();
  const [trying, setTrying] = useState(false);
  const {name, summary, arguments: list, parts, answers, example, notes, errors, mathematics, source} = declared;
  const named = answers === 'row' || answers === 'table';
  return (
    <article className={page.stack} aria-labelledby="function">
      <h1 id="function" className={page.heading}>
        {NAMESPACE}.{name}
      </h1>
      <p>{summary}</p>
      <InsertForm declared={declared} selection={selection} />
      <section aria-labelledby="example">
        <h2 id="example" className={page.heading}>
          Example
        </h2>
        <p className={styles.code}>{example.formula}</p>
        <p>
          gives{' '}
          <span className={styles.code}>
            {example.gives.map((row) => row.map((cell) => JSON.stringify(cell)).join(', ')).join('; ')}
          </span>
        </p>
        <Button size="small" onClick={() => setTrying(true)}>
          Write the example into the sheet
        </Button>
        {trying && <WriteFormula formula={example.formula} selection={selection} onDone={() => undefined} />}
      </section>
      {list.length > 0 && (
        <section aria-labelledby="arguments">
          <h2 id="arguments" className={page.heading}>
            Arguments
          </h2>
          <dl className={page.list}>
            {list.map((argument) => (
              <div key={argument.name}>
                <dt>
                  <strong>{argument.name}</strong>
                  {argument.optional ? ' (may be left out)' : ''}
                </dt>
                <dd className={page.quiet}>
                  {argument.says}: {argument.takes}
                  {argument.standsFor === undefined ? '' : `; left out: ${argument.standsFor}`}
                </dd>
              </div>
            ))}
          </dl>
        </section>
      )}
      <section aria-labelledby="answer">
        <h2 id="answer" className={page.heading}>
          What comes back
        </h2>
        <dl className={page.list}>
          {Object.entries(parts).map(([part, {says, unit}]) => (
            <div key={part}>
              {named && (
                <dt>
                  <strong>{part}</strong>
                </dt>
              )}
              <dd className={page.quiet}>
                {says}
                {unit === '' ? '' : `, in ${unit}`}
              </dd>
            </div>
          ))}
        </dl>
      </section>
      <section aria-labelledby="mathematics">
        <h2 id="mathematics" className={page.heading}>
          Mathematics and source
        </h2>
        <p>{mathematics}</p>
        <p className={page.quiet}>Source: {source}.</p>
        {errors.length > 0 && <p className={page.quiet}>Refuses: {errors.join('; ')}.</p>}
      </section>
      {notes.length > 0 && (
        <section aria-labelledby="notes">
          <h2 id="notes" className={page.heading}>
            Notes
          </h2>
          <ul className={page.list}>
            {notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </section>
      )}
    </article>
  );
}

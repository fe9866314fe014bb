import {Button, Link, makeStyles, SearchBox, tokens} from '@fluentui/react-components';
import {useCallback, useMemo, useRef, useState} from 'react';
import {NAMESPACE} from '../../functions/catalogue';
import type {Declaration} from '../../functions/declare';
import type {AtHand} from '../app/useLedger';
import {usePageStyles} from '../shared/styles';
import {FunctionDetail} from './FunctionDetail';
import {search} from './search';

const useStyles = makeStyles({
  family: {
    margin: 0,
    paddingTop: tokens.spacingVerticalM,
    fontSize: tokens.fontSizeBase300,
    fontWeight: tokens.fontWeightSemibold,
    color: tokens.colorNeutralForeground2,
  },
  list: {listStyleType: 'none', margin: 0, padding: 0},
  item: {paddingBlock: tokens.spacingVerticalXS},
  search: {width: '100%', maxWidth: '420px'},
});

/** Find a function, understand it, insert it. */
export function FunctionsView({atHand}: {readonly atHand: AtHand}) {
  const page = usePageStyles();
  const styles = useStyles();
  const [query, setQuery] = useState('');
  const [chosen, setChosen] = useState<Declaration>();
  const found = useMemo(() => search(query), [query]);
  // Whoever came by keyboard goes on from where the view has changed.
  const returned = useRef(false);
  const focused = useCallback((element: HTMLElement | null) => element?.focus(), []);
  if (chosen !== undefined) returned.current = true;
  const selection = 'selection' in atHand ? atHand.selection : undefined;
  if (chosen !== undefined) {
    return (
      <>
        <Button size="small" appearance="subtle" ref={focused} onClick={() => setChosen(undefined)}>
          ← All functions
        </Button>
        <FunctionDetail key={chosen.name} declared={chosen} selection={selection} />
      </>
    );
  }
  const asked = query.trim() !== '';
  const families = asked ? [''] : [...new Set(found.map(({family}) => family))];
  return (
    <article>
      <h1 className={page.heading}>Functions</h1>
      <SearchBox
        input={{ref: returned.current ? focused : undefined}}
        className={styles.search}
        placeholder="Search: dent, heavy spot, spoke …"
        aria-label="Search functions"
        value={query}
        onChange={(_, {value}) => setQuery(value)}
      />
      <p className={page.quiet} role="status">
        {asked
          ? `${found.length === 0 ? 'No function fits' : `${found.length} fit`} “${query.trim()}”.`
          : `${found.length} functions`}
      </p>
      {families.map((family) => (
        <section key={family} aria-label={family === '' ? 'Functions found' : family}>
          {family !== '' && <h2 className={styles.family}>{family}</h2>}
          <ul className={styles.list}>
            {found
              .filter((declared) => family === '' || declared.family === family)
              .map((declared) => (
                <li key={declared.name} className={styles.item}>
                  <Link as="button" onClick={() => setChosen(declared)}>
                    {NAMESPACE}.{declared.name}
                  </Link>
                  <div className={page.quiet}>{declared.summary}</div>
                </li>
              ))}
          </ul>
        </section>
      ))}
    </article>
  );
}

import {makeStyles, tokens} from '@fluentui/react-components';
import {useId, type ReactNode} from 'react';

const useStyles = makeStyles({
  figure: {margin: 0},
  caption: {fontWeight: tokens.fontWeightSemibold, paddingBottom: tokens.spacingVerticalXS},
  details: {paddingTop: tokens.spacingVerticalXS, color: tokens.colorNeutralForeground2},
  scroll: {overflowX: 'auto', maxHeight: '260px', overflowY: 'auto'},
  table: {
    borderCollapse: 'collapse',
    fontVariantNumeric: 'tabular-nums',
    '& th, & td': {
      textAlign: 'right',
      padding: '2px 8px',
      borderBottom: `1px solid ${tokens.colorNeutralStroke2}`,
      fontWeight: 'normal',
    },
    '& thead th': {fontWeight: tokens.fontWeightSemibold},
  },
});

interface Props {
  /** What the chart shows, in a sentence. */
  readonly title: string;
  /** The drawing; it is told the id of its title. */
  readonly children: (titleId: string) => ReactNode;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A chart with its title above and its figures as a table behind. */
export function Figure({title, children, head, rows}: Props) {
  const styles = useStyles();
  const id = useId();
  return (
    <figure className={styles.figure}>
      <figcaption id={id} className={styles.caption}>
        {title}
      </figcaption>
      {children(id)}
      <details className={styles.details}>
        <summary>As a table</summary>
        <div className={styles.scroll} tabIndex={0} role="group" aria-label={`Figures: ${title}`}>
          <table className={styles.table}>
            <thead>
              <tr>
                {head.map((text) => (
                  <th key={text} scope="col">
                    {text}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={row[0]}>
                  {row.map((text, i) =>
                    i === 0 ? (
                      <th key={i} scope="row">
                        {text}
                      </th>
                    ) : (
                      <td key={i}>{text}</td>
                    ),
                  )}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </details>
    </figure>
  );
}

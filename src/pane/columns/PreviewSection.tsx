import {makeStyles, tokens} from '@fluentui/react-components';
import {Refusal} from '../../maths/refusal';
import {cellAddress} from '../../workbook/addresses';
import {nameOf, previewRows, type Plan, type PlannedColumn} from '../../workbook/columns/plan';
import {Records} from '../../workbook/columns/records';
import {usePageStyles} from '../shared/styles';

const useStyles = makeStyles({
  scroll: {overflowX: 'auto', maxWidth: '100%'},
  table: {
    borderCollapse: 'collapse',
    fontVariantNumeric: 'tabular-nums',
    '& th, & td': {
      textAlign: 'left',
      verticalAlign: 'top',
      padding: `2px ${tokens.spacingHorizontalS} 2px 0`,
      borderBottom: `1px solid ${tokens.colorNeutralStroke2}`,
      fontWeight: 'normal',
    },
    '& thead th': {color: tokens.colorNeutralForeground2},
  },
  formula: {overflowWrap: 'anywhere', fontFamily: tokens.fontFamilyMonospace, fontSize: tokens.fontSizeBase200},
});

/** Digits as the column will show them. */
function shown(column: PlannedColumn, figure: ReturnType<Plan['figure']>): string {
  if (figure instanceof Refusal) return figure.reason === 'invalid' ? '#VALUE!' : '#N/A';
  if (typeof figure !== 'number') return String(figure);
  const digits = /\.(0+)$/.exec(column.numberFormat ?? '')?.[1].length ?? 0;
  return figure.toFixed(digits);
}

/** The first three results and every formula, before anything is written. */
export function PreviewSection({plan}: {readonly plan: Plan}) {
  const page = usePageStyles();
  const styles = useStyles();
  const records = new Records(plan.mapping);
  const rows = previewRows(plan);
  const {records: source} = plan.mapping;
  const refusals = plan.columns.flatMap((column) =>
    rows.flatMap((record) => {
      const figure = plan.figure(column, record);
      return figure instanceof Refusal ? [`${nameOf(records, record)}, ${column.heading}: ${figure.message}`] : [];
    }),
  );
  return (
    <section className={page.section} aria-labelledby="preview">
      <h2 id="preview" className={page.heading}>
        Preview
      </h2>
      {plan.warnings.map((warning) => (
        <p key={warning}>{warning}</p>
      ))}
      <p className={page.quiet}>The first results; nothing is written yet.</p>
      <div className={styles.scroll} tabIndex={0} role="region" aria-label="First results">
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">Column</th>
              {rows.map((record) => (
                <th key={record} scope="col">
                  {nameOf(records, record)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {plan.columns.map((column) => (
              <tr key={column.id}>
                <th scope="row">{column.heading}</th>
                {rows.map((record) => (
                  <td key={record}>{shown(column, plan.figure(column, record))}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {refusals.slice(0, 3).map((words) => (
        <p key={words}>{words}.</p>
      ))}
      <details>
        <summary>Formulas of {rows.length > 0 ? nameOf(records, rows[0]) : 'the first row'}</summary>
        <dl>
          {plan.columns.map((column) => (
            <div key={column.id}>
              <dt>
                {column.heading}, {cellAddress(source.firstRow + (rows[0] ?? 0), column.column)}
                {column.exists ? ' (the column is there)' : ''}
                {column.spills ? ', spills down' : ''}
              </dt>
              <dd className={styles.formula}>{plan.formula(column, rows[0] ?? 0)}</dd>
            </div>
          ))}
        </dl>
      </details>
    </section>
  );
}

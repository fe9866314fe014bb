import {makeStyles, tokens} from '@fluentui/react-components';
import {scaleBand, scaleLinear} from 'd3-scale';
import {inWords, withUncertainty} from '../../maths/format';
import {ASSEMBLY} from './colors';
import {Figure} from './Figure';
import {useChartStyles} from './styles';
import {useWidth} from './useWidth';

export interface PlaceBar {
  readonly position: string;
  readonly before: number;
  readonly plusBefore: number | undefined;
  readonly after: number;
  readonly plusminus: number | undefined;
  readonly limit: number;
}

interface Props {
  readonly title: string;
  readonly unit: string;
  readonly rows: readonly PlaceBar[];
}

const useStyles = makeStyles({
  limit: {stroke: tokens.colorNeutralForeground2, strokeWidth: '1.5px', strokeDasharray: '6 3'},
});

const HEIGHT = 170;
const MARGIN = {top: 16, right: 10, bottom: 24, left: 44};

/** Runout at each position before and after: outlines as it was, bars as it will be, with error bars and the limit. */
export function PlacesChart({title, unit, rows}: Props) {
  const styles = useStyles();
  const chart = useChartStyles();
  const [ref, width] = useWidth<HTMLDivElement>();
  const most = Math.max(
    1e-9,
    ...rows.flatMap(({before, after, plusminus = 0, limit}) => [before, after + plusminus, limit]),
  );
  const x = scaleBand<number>(
    rows.map((_, i) => i),
    [MARGIN.left, width - MARGIN.right],
  ).padding(0.3);
  const y = scaleLinear([0, most], [HEIGHT - MARGIN.bottom, MARGIN.top]).nice(4);
  const half = x.bandwidth() / 2;
  return (
    <Figure
      title={title}
      head={['Position', 'Before', 'After', 'Limit']}
      rows={rows.map(({position, before, plusBefore, after, plusminus, limit}) => [
        position,
        `${withUncertainty(before, plusBefore ?? 0)} ${unit}`,
        `${withUncertainty(after, plusminus ?? 0)} ${unit}`,
        `${inWords(limit)} ${unit}`,
      ])}
    >
      {(titleId) => (
        <div ref={ref}>
          <svg width={width} height={HEIGHT} role="img" aria-labelledby={titleId} className={chart.chart}>
            {y.ticks(4).map((tick) => (
              <g key={tick}>
                <line className={chart.grid} x1={MARGIN.left} x2={width - MARGIN.right} y1={y(tick)} y2={y(tick)} />
                <text className={chart.text} x={MARGIN.left - 6} y={y(tick) + 4} textAnchor="end">
                  {inWords(tick)}
                </text>
              </g>
            ))}
            {rows.map(({position, before, after, plusminus = 0, limit}, i) => {
              const left = x(i)!;
              return (
                <g key={position}>
                  <rect
                    x={left}
                    width={half - 1}
                    y={y(before)}
                    height={y(0) - y(before)}
                    fill="none"
                    stroke={ASSEMBLY.color}
                    strokeDasharray="3 2"
                  />
                  <rect
                    x={left + half + 1}
                    width={half - 1}
                    y={y(after)}
                    height={y(0) - y(after)}
                    fill={ASSEMBLY.color}
                    opacity={0.75}
                  />
                  <path
                    className={chart.error}
                    d={`M${left + 1.5 * half} ${y(Math.max(0, after - plusminus))}V${y(after + plusminus)}m-4 0h8`}
                  />
                  <line
                    className={styles.limit}
                    x1={left - 4}
                    x2={left + x.bandwidth() + 4}
                    y1={y(limit)}
                    y2={y(limit)}
                  />
                  <text className={chart.text} x={left + half} y={y(0) + 15} textAnchor="middle">
                    {position}
                  </text>
                </g>
              );
            })}
            <text className={chart.text} x={width - MARGIN.right} y={11} textAnchor="end">
              {unit}, peak-to-peak
            </text>
          </svg>
          <ul className={chart.legend}>
            <li>
              <svg width="14" height="10" aria-hidden="true">
                <rect x="1" y="1" width="12" height="8" fill="none" stroke={ASSEMBLY.color} strokeDasharray="3 2" />
              </svg>{' '}
              before
            </li>
            <li>
              <svg width="14" height="10" aria-hidden="true">
                <rect x="1" y="1" width="12" height="8" fill={ASSEMBLY.color} opacity={0.75} />
              </svg>{' '}
              after
            </li>
            <li>
              <svg width="22" height="10" aria-hidden="true">
                <line x1="0" x2="22" y1="5" y2="5" className={styles.limit} />
              </svg>{' '}
              limit
            </li>
          </ul>
        </div>
      )}
    </Figure>
  );
}

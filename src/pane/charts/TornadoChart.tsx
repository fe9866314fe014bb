import {makeStyles, tokens} from '@fluentui/react-components';
import {scaleLinear} from 'd3-scale';
import {ASSEMBLY} from './colors';
import {Figure} from './Figure';
import {useChartStyles} from './styles';
import {useWidth} from './useWidth';

export interface TornadoRow {
  readonly name: string;
  readonly low: string;
  readonly high: string;
  readonly netAtLow: number;
  readonly netAtHigh: number;
}

interface Props {
  readonly title: string;
  readonly net: number;
  readonly rows: readonly TornadoRow[];
}

const useStyles = makeStyles({
  zero: {stroke: tokens.colorNeutralForeground2, strokeWidth: '1px', strokeDasharray: '4 3'},
  net: {stroke: tokens.colorNeutralForeground1, strokeWidth: '1.5px'},
  /** Keeps the lines of the grid out of the words. */
  label: {
    paintOrder: 'stroke',
    stroke: tokens.colorNeutralBackground1,
    strokeWidth: '4px',
    '@media (forced-colors: active)': {stroke: 'none'},
  },
});

const ROW = 36;
const BAR = 12;
const FOOT = 32;
const SIDE = 14;

const money = (value: number): string => value.toFixed(2);

/** How the net moves when one assumption moves: an outline toward its lower figure, a bar toward its higher one. */
export function TornadoChart({title, net, rows}: Props) {
  const styles = useStyles();
  const chart = useChartStyles();
  const [ref, width] = useWidth<HTMLDivElement>();
  const ends = rows.flatMap(({netAtLow, netAtHigh}) => [netAtLow, netAtHigh]);
  const x = scaleLinear([Math.min(0, net, ...ends), Math.max(0, net, ...ends)], [SIDE, width - SIDE]).nice(4);
  const height = rows.length * ROW + FOOT;
  const base = rows.length * ROW + 4;
  return (
    <Figure
      title={title}
      head={['Assumption', 'Lower', 'Net then', 'Higher', 'Net then ']}
      rows={rows.map(({name, low, high, netAtLow, netAtHigh}) => [name, low, money(netAtLow), high, money(netAtHigh)])}
    >
      {(titleId) => (
        <div ref={ref}>
          <svg width={width} height={height} role="img" aria-labelledby={titleId} className={chart.chart}>
            {x.ticks(4).map((tick) => (
              <g key={tick}>
                <line className={chart.grid} x1={x(tick)} x2={x(tick)} y1={0} y2={base} />
                <text className={chart.text} x={x(tick)} y={base + 13} textAnchor="middle">
                  {tick}
                </text>
              </g>
            ))}
            <line className={styles.zero} x1={x(0)} x2={x(0)} y1={0} y2={base} />
            <line className={styles.net} x1={x(net)} x2={x(net)} y1={4} y2={base} />
            {rows.map(({name, low, high, netAtLow, netAtHigh}, i) => {
              const top = i * ROW + 16;
              const bar = (to: number) => ({
                x: Math.min(x(net), x(to)),
                width: Math.abs(x(to) - x(net)),
                y: top,
                height: BAR,
              });
              return (
                <g key={name}>
                  <text className={`${chart.text} ${styles.label}`} x={SIDE} y={top - 4}>
                    {name}: {low}–{high}
                  </text>
                  <rect {...bar(netAtLow)} fill="none" stroke={ASSEMBLY.color} strokeDasharray="3 2" />
                  <rect {...bar(netAtHigh)} fill={ASSEMBLY.color} opacity={0.75} />
                </g>
              );
            })}
            <text className={chart.text} x={width / 2} y={height - 4} textAnchor="middle">
              net; the line marks it as it stands
            </text>
          </svg>
        </div>
      )}
    </Figure>
  );
}

import {scaleBand, scaleLinear} from 'd3-scale';
import {inWords, withUncertainty} from '../../maths/format';
import type {HarmonicRow} from '../../maths/harmonics';
import {ASSEMBLY} from './colors';
import {Figure} from './Figure';
import {useChartStyles} from './styles';
import {useWidth} from './useWidth';

interface Props {
  readonly title: string;
  readonly unit: string;
  readonly rows: readonly HarmonicRow[];
}

const HEIGHT = 150;
const MARGIN = {top: 8, right: 10, bottom: 34, left: 44};
/** Pixels that a name needs beside its neighbors. */
const NAME_WIDTH = 72;
const NAMES = ['once a turn', 'twice', '3 times', '4 times'];

/** Harmonics as bars from 0, with error bars. */
export function HarmonicsChart({title, unit, rows}: Props) {
  const styles = useChartStyles();
  const [ref, width] = useWidth<HTMLDivElement>();
  const most = Math.max(1e-9, ...rows.map(({amount, plusminus = 0}) => amount + plusminus));
  const x = scaleBand<number>(
    rows.map(({order}) => order),
    [MARGIN.left, width - MARGIN.right],
  ).padding(0.45);
  const y = scaleLinear([0, most], [HEIGHT - MARGIN.bottom, MARGIN.top]).nice(3);
  return (
    <Figure
      title={title}
      head={['Order', 'Amount', 'High point', 'Share']}
      rows={rows.map(({order, amount, plusminus = 0, angle, share}) => [
        String(order),
        `${withUncertainty(amount, plusminus)} ${unit}`,
        `${Math.round(angle)}°`,
        share === undefined ? '' : `${Math.round(100 * share)} %`,
      ])}
    >
      {(titleId) => (
        <div ref={ref}>
          <svg width={width} height={HEIGHT} role="img" aria-labelledby={titleId} className={styles.chart}>
            {y.ticks(3).map((tick) => (
              <g key={tick}>
                <line className={styles.grid} x1={MARGIN.left} x2={width - MARGIN.right} y1={y(tick)} y2={y(tick)} />
                <text className={styles.text} x={MARGIN.left - 6} y={y(tick) + 4} textAnchor="end">
                  {inWords(tick)}
                </text>
              </g>
            ))}
            {rows.map(({order, amount, plusminus = 0}, i) => {
              const left = x(order)!;
              const middle = left + x.bandwidth() / 2;
              return (
                <g key={order}>
                  <rect
                    x={left}
                    width={x.bandwidth()}
                    y={y(amount)}
                    height={y(0) - y(amount)}
                    fill={ASSEMBLY.color}
                    opacity={0.75}
                  />
                  <path
                    className={styles.error}
                    d={`M${middle} ${y(Math.max(0, amount - plusminus))}V${y(amount + plusminus)}m-4 0h8`}
                  />
                  <text className={styles.text} x={middle} y={y(0) + 14} textAnchor="middle">
                    {order}
                  </text>
                  {x.step() > NAME_WIDTH && (
                    <text className={styles.text} x={middle} y={y(0) + 27} textAnchor="middle">
                      {NAMES[i]}
                    </text>
                  )}
                </g>
              );
            })}
            {x.step() <= NAME_WIDTH && (
              <text
                className={styles.text}
                x={(MARGIN.left + width - MARGIN.right) / 2}
                y={y(0) + 27}
                textAnchor="middle"
              >
                times a turn
              </text>
            )}
          </svg>
        </div>
      )}
    </Figure>
  );
}

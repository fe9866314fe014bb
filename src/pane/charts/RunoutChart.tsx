import {scaleLinear} from 'd3-scale';
import {line} from 'd3-shape';
import {inWords} from '../../maths/format';
import type {Measured} from '../wheel/model';
import {ASSEMBLY, RIM, TIRE} from './colors';
import {Figure} from './Figure';
import {useChartStyles} from './styles';
import {useWidth} from './useWidth';

interface Props {
  readonly title: string;
  readonly unit: string;
  /** Limit of the assembly, peak-to-peak: drawn as a band about the middle. */
  readonly limit: number | undefined;
  readonly rim: readonly Measured[];
  readonly tire: readonly Measured[];
  readonly assembly: readonly Measured[];
  readonly rimPoints: readonly Measured[];
  /** Left out when the tire is shown turned: these were measured as it was. */
  readonly assemblyPoints: readonly Measured[];
}

const HEIGHT = 210;
const MARGIN = {top: 8, right: 10, bottom: 34, left: 44};

/** Rim, tire and assembly over the turn: points as measured, lines as fitted. */
export function RunoutChart({title, unit, limit, rim, tire, assembly, rimPoints, assemblyPoints}: Props) {
  const styles = useChartStyles();
  const [ref, width] = useWidth<HTMLDivElement>();
  const all = [...rim, ...tire, ...assembly, ...rimPoints, ...assemblyPoints].map(({value}) => value);
  const most = Math.max(0.001, (limit ?? 0) / 2, ...all.map(Math.abs));
  const x = scaleLinear([0, 360], [MARGIN.left, width - MARGIN.right]);
  const y = scaleLinear([-most, most], [HEIGHT - MARGIN.bottom, MARGIN.top]).nice(4);
  const path = line<Measured>(
    ({degrees}) => x(degrees),
    ({value}) => y(value),
  );
  const at = (list: readonly Measured[], degrees: number): string =>
    inWords(list.find((p) => p.degrees === degrees)?.value ?? NaN);
  const rows = rim
    .filter(({degrees}) => degrees % 30 === 0 && degrees < 360)
    .map(({degrees}) => [`${degrees}°`, ...[rim, tire, assembly].map((list) => at(list, degrees))]);
  return (
    <Figure title={title} head={['Angle', 'Rim', 'Tire', 'Assembly']} rows={rows}>
      {(titleId) => (
        <div ref={ref}>
          <svg width={width} height={HEIGHT} role="img" aria-labelledby={titleId} className={styles.chart}>
            {limit !== undefined && (
              <g>
                <rect
                  className={styles.band}
                  x={x(0)}
                  width={x(360) - x(0)}
                  y={y(limit / 2)}
                  height={y(-limit / 2) - y(limit / 2)}
                />
                <text className={styles.text} x={x(360) - 4} y={y(limit / 2) + 12} textAnchor="end">
                  limit {inWords(limit)} {unit}
                </text>
              </g>
            )}
            {y.ticks(5).map((tick) => (
              <g key={tick}>
                <line className={styles.grid} x1={x(0)} x2={x(360)} y1={y(tick)} y2={y(tick)} />
                <text className={styles.text} x={x(0) - 6} y={y(tick) + 4} textAnchor="end">
                  {inWords(tick)}
                </text>
              </g>
            ))}
            {[0, 90, 180, 270, 360].map((tick) => (
              <g key={tick}>
                <line className={styles.grid} x1={x(tick)} x2={x(tick)} y1={y.range()[0]} y2={y.range()[0] + 4} />
                <text
                  className={styles.text}
                  x={x(tick)}
                  y={y.range()[0] + 16}
                  textAnchor={tick === 360 ? 'end' : 'middle'}
                >
                  {tick}°
                </text>
              </g>
            ))}
            <text className={styles.text} x={x(180)} y={HEIGHT - 4} textAnchor="middle">
              angle from the valve hole; {unit === '' ? 'unit of the readings' : unit} up
            </text>
            {rimPoints.map(({degrees, value}) => (
              <rect key={degrees} x={x(degrees) - 2} y={y(value) - 2} width={4} height={4} fill={RIM.color} />
            ))}
            {assemblyPoints.map(({degrees, value}) => (
              <circle key={degrees} cx={x(degrees)} cy={y(value)} r={2.8} fill="none" stroke={ASSEMBLY.color} />
            ))}
            {(
              [
                [rim, RIM],
                [tire, TIRE],
                [assembly, ASSEMBLY],
              ] as const
            ).map(([list, {color, dash, width: stroke}]) => (
              <path
                key={color}
                d={path([...list])!}
                fill="none"
                stroke={color}
                strokeWidth={stroke}
                strokeDasharray={dash}
              />
            ))}
          </svg>
          <ul className={styles.legend}>
            {(
              [
                ['Rim', RIM],
                ['Tire', TIRE],
                ['Assembly', ASSEMBLY],
              ] as const
            ).map(([name, {color, dash, width: stroke}]) => (
              <li key={name}>
                <svg width="28" height="10" aria-hidden="true">
                  <line x1="0" x2="28" y1="5" y2="5" stroke={color} strokeWidth={stroke} strokeDasharray={dash} />
                </svg>{' '}
                {name}
              </li>
            ))}
          </ul>
        </div>
      )}
    </Figure>
  );
}

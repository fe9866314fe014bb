import {makeStyles, tokens} from '@fluentui/react-components';
import {cosd, sind} from '../../maths/angles';
import {inWords} from '../../maths/format';
import {Figure} from '../charts/Figure';
import {useChartStyles} from '../charts/styles';
import type {PlacedWeight} from './weightsModel';

const useStyles = makeStyles({
  face: {display: 'block', margin: '0 auto', maxWidth: '100%', height: 'auto'},
  line: {stroke: tokens.colorNeutralForeground2, fill: 'none', strokeWidth: '1.5px'},
  thin: {stroke: tokens.colorNeutralStroke1, fill: 'none', strokeWidth: '1px'},
  mark: {stroke: tokens.colorNeutralForeground1, strokeWidth: '1.5px'},
  outboard: {fill: tokens.colorNeutralForeground1},
  inboard: {fill: tokens.colorNeutralBackground1, strokeDasharray: '3 2'},
  text: {fill: tokens.colorNeutralForeground1, fontSize: '12px', fontFamily: tokens.fontFamilyBase},
});

interface Props {
  readonly title: string;
  readonly unit: string;
  readonly clockwise: boolean;
  readonly weights: readonly PlacedWeight[];
  /** Angles of the spokes, drawn where weights hide behind them. */
  readonly spokes: readonly number[];
}

const WIDTH = 300;
const SIZE = 240;
const MIDDLE = WIDTH / 2;
const CENTER = SIZE / 2;
const RIM = 82;
const HUB = 14;

/** The wheel face-on, as seen from outboard with the valve hole at the top: lines, and the weights where they go. */
export function WheelFace({title, unit, clockwise, weights, spokes}: Props) {
  const styles = useStyles();
  const chart = useChartStyles();
  const at = (degrees: number, radius: number): {x: number; y: number} => {
    const angle = clockwise ? degrees : -degrees;
    return {x: MIDDLE + radius * sind(angle), y: CENTER - radius * cosd(angle)};
  };
  const placed = weights.filter(({weight}) => weight.amount > 0);
  return (
    <Figure
      title={title}
      head={['Weight', 'Mass', 'At', 'Position', 'Radius']}
      rows={weights.map(({name, weight, position, radius}) => [
        name,
        `${inWords(weight.amount)} ${unit}`,
        weight.amount === 0 ? '' : `${Math.round(weight.angle)}°`,
        inWords(position),
        inWords(radius),
      ])}
    >
      {(titleId) => (
        <svg
          width={WIDTH}
          height={SIZE}
          viewBox={`0 0 ${WIDTH} ${SIZE}`}
          role="img"
          aria-labelledby={titleId}
          className={`${chart.chart} ${styles.face}`}
        >
          <circle className={styles.line} cx={MIDDLE} cy={CENTER} r={RIM} />
          <circle className={styles.thin} cx={MIDDLE} cy={CENTER} r={RIM - 8} />
          <circle className={styles.line} cx={MIDDLE} cy={CENTER} r={HUB} />
          {spokes.map((angle) => {
            const [from, to] = [at(angle, HUB), at(angle, RIM - 8)];
            return <line key={angle} className={styles.line} x1={from.x} y1={from.y} x2={to.x} y2={to.y} />;
          })}
          <circle className={styles.line} cx={MIDDLE} cy={CENTER - RIM + 18} r={3.5} />
          <text className={styles.text} x={MIDDLE + 8} y={CENTER - RIM + 22}>
            valve
          </text>
          {placed.map(({name, side, weight}) => {
            const inside = side === 'inboard';
            const mark = at(weight.angle, inside ? RIM - 4 : RIM + 5);
            const words = at(weight.angle, inside ? RIM - 30 : RIM + 16);
            // Beside the wheel the words begin or end at their mark, above and below it they stand over it.
            const beside = inside ? 0 : Math.sign(Math.round((words.x - MIDDLE) / RIM));
            const turn = clockwise ? weight.angle : -weight.angle;
            return (
              <g key={name}>
                <rect
                  className={`${styles.mark} ${inside ? styles.inboard : styles.outboard}`}
                  x={-8}
                  y={-4}
                  width={16}
                  height={8}
                  transform={`translate(${mark.x} ${mark.y}) rotate(${turn})`}
                />
                <text
                  className={styles.text}
                  x={words.x}
                  y={words.y + 4}
                  textAnchor={beside === 0 ? 'middle' : beside > 0 ? 'start' : 'end'}
                >
                  {inWords(weight.amount)} {unit}
                  {side === 'single' ? '' : inside ? ' in' : ' out'}
                </text>
              </g>
            );
          })}
        </svg>
      )}
    </Figure>
  );
}

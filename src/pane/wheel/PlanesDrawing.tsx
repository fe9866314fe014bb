import {makeStyles, tokens} from '@fluentui/react-components';
import {scaleLinear} from 'd3-scale';
import {useRef, type KeyboardEvent, type PointerEvent} from 'react';
import {inWords} from '../../maths/format';
import type {Plane} from '../../maths/planes';
import {useChartStyles} from '../charts/styles';
import {useWidth} from '../charts/useWidth';

const useStyles = makeStyles({
  rim: {stroke: tokens.colorNeutralForeground3, fill: 'none', strokeWidth: '1.5px'},
  axle: {stroke: tokens.colorNeutralStroke1, strokeDasharray: '8 3 2 3'},
  plane: {stroke: tokens.colorNeutralForeground2, strokeWidth: '1.5px'},
  handle: {
    fill: tokens.colorNeutralForeground1,
    stroke: tokens.colorNeutralBackground1,
    strokeWidth: '2px',
    cursor: 'grab',
    touchAction: 'none',
    ':focus-visible': {outline: `2px solid ${tokens.colorStrokeFocus2}`, outlineOffset: '3px'},
  },
});

export interface NamedPlane extends Plane {
  readonly name: string;
}

interface Props {
  readonly planes: readonly NamedPlane[];
  readonly unit: string;
  readonly onMove: (index: number, plane: Plane) => void;
  /** Positions between which planes can be moved: farthest inboard, farthest outboard. */
  readonly span: readonly [number, number];
  /** Largest radius. */
  readonly most: number;
}

const HEIGHT = 132;
const MARGIN = {top: 16, right: 16, bottom: 30, left: 16};

/** The rim in section, inboard at the left, with the planes of the weights as handles to drag or to move by arrow keys. */
export function PlanesDrawing({planes, unit, onMove, span, most}: Props) {
  const styles = useStyles();
  const chart = useChartStyles();
  const [ref, width] = useWidth<HTMLDivElement>();
  const svg = useRef<SVGSVGElement>(null);
  const step = unit === 'in' ? 0.1 : 1;
  const digits = unit === 'in' ? 1 : 0;
  const x = scaleLinear(span, [MARGIN.left, width - MARGIN.right]).clamp(true);
  const y = scaleLinear([0, most], [HEIGHT - MARGIN.bottom, MARGIN.top]).clamp(true);
  const [least, greatest] = [Math.min(...span), Math.max(...span)];
  const outward = Math.sign(span[1] - span[0]);
  const held = (position: number): number => round(Math.min(greatest, Math.max(least, position)));
  const round = (value: number): number => Number((Math.round(value / step) * step).toFixed(digits));

  const drag = (index: number) => (event: PointerEvent<SVGCircleElement>) => {
    if (!event.currentTarget.hasPointerCapture(event.pointerId)) return;
    const box = svg.current!.getBoundingClientRect();
    const radius = Math.max(step, round(y.invert(event.clientY - box.top)));
    onMove(index, {position: round(x.invert(event.clientX - box.left)), radius});
  };
  const key = (index: number) => (event: KeyboardEvent) => {
    const {position, radius} = planes[index];
    const far = event.shiftKey ? 10 * step : step;
    const to: Readonly<Record<string, Plane>> = {
      ArrowLeft: {position: held(position - outward * far), radius},
      ArrowRight: {position: held(position + outward * far), radius},
      ArrowUp: {position, radius: round(Math.min(most, radius + far))},
      ArrowDown: {position, radius: Math.max(step, round(radius - far))},
    };
    const plane = to[event.key];
    if (plane === undefined) return;
    event.preventDefault();
    onMove(index, plane);
  };
  const [left, right] = [x(span[0] + 0.08 * (span[1] - span[0])), x(span[1] - 0.08 * (span[1] - span[0]))];
  const edge = y(0.98 * most);
  const drop = y(0.78 * most);
  return (
    <div ref={ref}>
      <svg
        ref={svg}
        width={width}
        height={HEIGHT}
        className={chart.chart}
        role="group"
        aria-label="Rim in section with the planes of the weights"
      >
        <line className={styles.axle} x1={MARGIN.left} x2={width - MARGIN.right} y1={y(0)} y2={y(0)} />
        <path
          className={styles.rim}
          d={`M${left} ${edge}v14h${(right - left) * 0.22}L${left + (right - left) * 0.34} ${drop}H${left + (right - left) * 0.66}L${left + (right - left) * 0.78} ${edge + 14}H${right}v-14`}
        />
        <text className={chart.text} x={MARGIN.left} y={HEIGHT - 14}>
          inboard
        </text>
        <text className={chart.text} x={width - MARGIN.right} y={HEIGHT - 14} textAnchor="end">
          outboard
        </text>
        <text className={chart.text} x={width / 2} y={HEIGHT - 2} textAnchor="middle">
          axle; drag a mark, or use the arrow keys
        </text>
        {planes.map(({name, position, radius}, i) => (
          <g key={name}>
            <line className={styles.plane} x1={x(position)} x2={x(position)} y1={y(0)} y2={y(radius)} />
            <circle
              className={styles.handle}
              cx={x(position)}
              cy={y(radius)}
              r={8}
              tabIndex={0}
              role="slider"
              aria-label={`${name} plane`}
              aria-valuenow={position}
              aria-valuemin={least}
              aria-valuemax={greatest}
              aria-valuetext={`position ${inWords(position)} ${unit}, radius ${inWords(radius)} ${unit}`}
              onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
              onPointerMove={drag(i)}
              onKeyDown={key(i)}
            />
          </g>
        ))}
      </svg>
    </div>
  );
}

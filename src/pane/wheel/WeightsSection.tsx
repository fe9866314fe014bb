import {Button, Radio, RadioGroup, Switch} from '@fluentui/react-components';
import {useMemo, useState} from 'react';
import {inWords} from '../../maths/format';
import type {Plane, Two} from '../../maths/planes';
import {Refusal} from '../../maths/refusal';
import {evenSpokes} from '../../maths/split';
import type {Area} from '../../workbook/addresses';
import type {LedgerRecord} from '../../workbook/ledger';
import {NumberField} from '../shared/NumberField';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';
import {WriteBlock} from '../shared/WriteBlock';
import {PlanesDrawing, type NamedPlane} from './PlanesDrawing';
import {weightsBlock} from './weightsBlock';
import {
  firstChoice,
  FITTINGS,
  largeCorrection,
  needed,
  placeWeights,
  samePlanes,
  verdict,
  type Fitting,
  type Needed,
  type Placed,
  type WeightChoice,
} from './weightsModel';
import {WheelFace} from './WheelFace';

interface Props {
  readonly record: LedgerRecord;
  readonly title: string;
  readonly selection: Area;
}

const FITTING_WORDS: Readonly<Record<Fitting, string>> = {
  'two planes': 'Two planes',
  'one plane': 'One plane (static only)',
  'behind spokes': 'Behind spokes, outboard',
};

/** Balance weights of the wheel: where they go, and what is left. */
export function WeightsSection({record, title, selection}: Props) {
  const page = usePageStyles();
  const found = useMemo(() => needed(record), [record]);
  return (
    <section className={page.section} aria-labelledby="weights">
      <h2 id="weights" className={page.heading}>
        Weights
      </h2>
      {'missing' in found ? (
        <p>{found.missing}</p>
      ) : (
        <Weights
          // Another wheel, or other planes or steps in its cells, begin anew.
          key={`${record.index} ${JSON.stringify([found.needed.planes, found.needed.step])}`}
          record={record}
          title={title}
          need={found.needed}
          selection={selection}
        />
      )}
    </section>
  );
}

function placedOrWhy(need: Needed, choice: WeightChoice): Placed | string {
  try {
    return placeWeights(need, choice);
  } catch (error) {
    if (error instanceof Refusal) return error.message;
    throw error;
  }
}

/** What a person types where the ledger has no such figures; it stays in the pane. */
interface TypedLimits {
  readonly static: number | undefined;
  readonly couple: number | undefined;
  readonly plusminus: number | undefined;
}

function Weights({record, title, need: read, selection}: Props & {readonly need: Needed}) {
  const page = usePageStyles();
  const [choice, setChoice] = useState(() => firstChoice(read));
  const [typedLimits, setTypedLimits] = useState<TypedLimits>({
    static: undefined,
    couple: undefined,
    plusminus: undefined,
  });
  const {massUnit: mass, lengthUnit: length} = read;
  const need: Needed = {
    ...read,
    limits:
      read.limits ??
      (typedLimits.static !== undefined && typedLimits.couple !== undefined
        ? {static: typedLimits.static, couple: typedLimits.couple}
        : undefined),
    plusminus: read.plusminus ?? typedLimits.plusminus,
  };
  const placed = placedOrWhy(need, choice);
  const change = (over: Partial<WeightChoice>): void => setChoice({...choice, ...over});
  const large = largeCorrection(need);
  return (
    <div className={page.stack}>
      {large !== undefined && <p>{large}</p>}
      <RadioGroup
        aria-label="Where the weights may go"
        value={choice.fitting}
        onChange={(_, {value}) => change({fitting: value as Fitting})}
      >
        {FITTINGS.map((fitting) => (
          <Radio key={fitting} value={fitting} label={FITTING_WORDS[fitting]} />
        ))}
      </RadioGroup>
      {choice.fitting === 'behind spokes' && (
        <div className={page.row}>
          <NumberField
            label="Spokes"
            value={choice.spokes}
            whole
            least={3}
            most={60}
            onNumber={(spokes) => change({spokes: spokes!})}
          />
          <NumberField
            label="First spoke at"
            unit="°"
            value={choice.firstSpoke}
            onNumber={(firstSpoke) => change({firstSpoke: firstSpoke!})}
          />
        </div>
      )}
      <Switch
        label={
          need.step === 0
            ? 'Exact masses (no stock step is known)'
            : `Exact masses instead of ${inWords(need.step)} ${mass} steps`
        }
        checked={choice.exact}
        disabled={need.step === 0}
        onChange={(_, {checked}) => change({exact: checked})}
      />
      {typeof placed === 'string' ? (
        <Problem words={placed} />
      ) : (
        <>
          <WheelFace
            title={`Weights of ${title}, seen from outboard`}
            unit={mass}
            clockwise={need.clockwise}
            weights={placed.weights}
            spokes={choice.fitting === 'behind spokes' ? evenSpokes(choice.spokes, choice.firstSpoke) : []}
          />
          <ul className={page.list}>
            {placed.weights.map(({name, weight}) => (
              <li key={name}>
                {name}:{' '}
                {weight.amount === 0 ? (
                  'no weight'
                ) : (
                  <>
                    <strong>
                      {inWords(weight.amount)} {mass}
                    </strong>{' '}
                    at {Math.round(weight.angle)}° from the valve
                  </>
                )}
              </li>
            ))}
          </ul>
          <div aria-live="polite">
            <p>
              Left: static {inWords(placed.left.staticMass)} {mass}, couple {inWords(placed.left.coupleMass)} {mass} (as
              masses at the radius of the weights).
            </p>
            <p>{verdict(placed.left, need)}</p>
          </div>
          {(read.limits === undefined || read.plusminus === undefined) && (
            <div className={page.row}>
              {read.limits === undefined && (
                <>
                  <NumberField
                    label="Limit, static"
                    unit={mass}
                    value={typedLimits.static}
                    least={0}
                    optional
                    onNumber={(value) => setTypedLimits({...typedLimits, static: value})}
                  />
                  <NumberField
                    label="Limit, couple"
                    unit={mass}
                    value={typedLimits.couple}
                    least={0}
                    optional
                    onNumber={(value) => setTypedLimits({...typedLimits, couple: value})}
                  />
                </>
              )}
              {read.plusminus === undefined && (
                <NumberField
                  label="Uncertainty ±"
                  unit={mass}
                  value={typedLimits.plusminus}
                  least={0}
                  optional
                  onNumber={(value) => setTypedLimits({...typedLimits, plusminus: value})}
                />
              )}
            </div>
          )}
          <details>
            <summary>Exact figures</summary>
            <dl className={page.figures}>
              {placed.weights.map(({name, weight}) => (
                <div key={name} style={{display: 'contents'}}>
                  <dt>{name}</dt>
                  <dd>
                    {weight.amount} {mass} at {weight.angle}°
                  </dd>
                </div>
              ))}
              <dt>Static left</dt>
              <dd>
                {placed.left.static.amount} {mass}·{length} at {placed.left.static.angle}°
              </dd>
              <dt>Couple left</dt>
              <dd>
                {placed.left.couple.amount} {mass}·{length}² at {placed.left.couple.angle}°
              </dd>
            </dl>
          </details>
        </>
      )}
      <Planes need={need} choice={choice} onChange={change} />
      <WriteBlock
        action="Write these weights into the sheet"
        sheet={record.ledger.body.sheet}
        row={record.ledger.body.row + record.index}
        selection={selection}
        block={(corner) => weightsBlock(record, `Weights of ${title}`, need, choice, corner)}
      />
    </div>
  );
}

interface PlanesProps {
  readonly need: Needed;
  readonly choice: WeightChoice;
  readonly onChange: (over: Partial<WeightChoice>) => void;
}

/** The planes of the weights, to be moved by dragging, by arrow keys or by typing. */
function Planes({need, choice, onChange}: PlanesProps) {
  const page = usePageStyles();
  const {lengthUnit: unit} = need;
  const one = choice.fitting === 'one plane';
  const planes: readonly NamedPlane[] = one
    ? [{name: 'Single', ...choice.single}]
    : choice.planes.map((plane, i) => ({name: i === 0 ? 'Inboard' : 'Outboard', ...plane}));
  const [inPlane, outPlane] = need.planes;
  const wide = 0.4 * Math.abs(outPlane.position - inPlane.position);
  const outward = Math.sign(outPlane.position - inPlane.position);
  const move = (index: number, {position, radius}: Plane): void => {
    const plane = {position, radius};
    if (one) onChange({single: plane});
    else onChange({planes: choice.planes.map((old, i) => (i === index ? plane : old)) as unknown as Two<Plane>});
  };
  const first = firstChoice(need);
  const moved = one
    ? choice.single.position !== first.single.position || choice.single.radius !== first.single.radius
    : !samePlanes(choice.planes, need.planes);
  return (
    <details>
      <summary>Move the planes of the weights</summary>
      <div className={page.stack}>
        <PlanesDrawing
          planes={planes}
          unit={unit}
          onMove={move}
          span={[inPlane.position - outward * wide, outPlane.position + outward * wide]}
          most={1.15 * Math.max(inPlane.radius, outPlane.radius)}
        />
        {planes.map(({name, position, radius}, i) => (
          <div key={name} className={page.row}>
            <NumberField
              label={`${name}, position`}
              unit={unit}
              value={position}
              onNumber={(value) => move(i, {position: value!, radius})}
            />
            <NumberField
              label={`${name}, radius`}
              unit={unit}
              value={radius}
              least={unit === 'in' ? 0.1 : 1}
              onNumber={(value) => move(i, {position, radius: value!})}
            />
          </div>
        ))}
        <div className={page.row}>
          <Button size="small" disabled={!moved} onClick={() => onChange({planes: need.planes, single: first.single})}>
            Planes as in the ledger
          </Button>
        </div>
      </div>
    </details>
  );
}

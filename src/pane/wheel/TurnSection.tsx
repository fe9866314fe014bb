import {Button, Field, makeStyles, mergeClasses, Slider, tokens} from '@fluentui/react-components';
import {inWords} from '../../maths/format';
import {shortWay} from '../../maths/angles';
import {RunoutChart} from '../charts/RunoutChart';
import {Cautions} from '../shared/Cautions';
import {usePageStyles} from '../shared/styles';
import {afterTurn, turnedOutlines, type Parts, type WheelModel} from './model';
import {CAUTIONS, instruction, signed} from './words';

const useStyles = makeStyles({
  slider: {width: '100%', minWidth: 0},
  below: {paddingTop: tokens.spacingVerticalS},
});

interface Props {
  readonly model: WheelModel;
  readonly parts: Parts;
  /** Turn shown, in (−180, 180]. */
  readonly turn: number;
  readonly onTurn: (turn: number) => void;
}

/** Turning the tire on the rim: what it makes of the assembly, and how it is done. */
export function TurnSection({model, parts, turn, onTurn}: Props) {
  const page = usePageStyles();
  const styles = useStyles();
  const {runoutUnit: unit, limits} = model;
  const best = shortWay(Math.round(parts.assessed?.turn ?? parts.curve.turn));
  const {first, whole} = afterTurn(parts, turn);
  const curves = turnedOutlines(parts, turn);
  const asMeasured = turn === 0;
  return (
    <section className={page.section} aria-labelledby="turning">
      <h2 id="turning" className={page.heading}>
        Try a turn
      </h2>
      <Field
        label={`Turn of the tire: ${signed(turn)}°`}
        hint={`Best for the first harmonic: ${signed(best)}°. The worst turn leaves ${inWords(parts.curve.worst)} ${unit} of the whole curve.`}
      >
        <Slider
          className={styles.slider}
          min={-180}
          max={180}
          value={turn}
          onChange={(_, {value}) => onTurn(Math.round(value))}
          aria-valuetext={`${turn} degrees; the assembly then has ${inWords(first)} ${unit}`}
        />
      </Field>
      <div className={mergeClasses(page.row, styles.below)}>
        <Button size="small" onClick={() => onTurn(best)} disabled={turn === best}>
          Best turn
        </Button>
        <Button size="small" onClick={() => onTurn(0)} disabled={asMeasured}>
          As measured
        </Button>
      </div>
      <p aria-live="polite">
        {asMeasured ? 'As it is, the assembly has ' : 'The assembly then has '}
        <strong>
          {inWords(first)} {unit}
        </strong>{' '}
        (first harmonic), {inWords(whole)} {unit} over the whole curve
        {limits === undefined ? '.' : `; the limit is ${inWords(limits.assembly)} ${unit}.`}
      </p>
      <RunoutChart
        title={
          asMeasured ? 'Runout over the turn, as measured' : `Runout over the turn, tire turned by ${signed(turn)}°`
        }
        unit={unit}
        limit={limits?.assembly}
        {...curves}
        rimPoints={parts.rimPoints}
        assemblyPoints={asMeasured ? parts.assemblyPoints : []}
      />
      {!asMeasured && (
        <section className={page.section} aria-labelledby="how">
          <h3 id="how" className={page.heading}>
            How to turn it
          </h3>
          <ol className={page.list}>
            {instruction(turn, model.clockwise, model.rimDiameterMm).map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
          <Cautions texts={CAUTIONS} />
        </section>
      )}
    </section>
  );
}

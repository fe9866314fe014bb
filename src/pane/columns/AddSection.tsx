import {Button, Checkbox, Field, Radio, RadioGroup, Select, Spinner} from '@fluentui/react-components';
import {useState} from 'react';
import type {Mapping} from '../../workbook/columns/mapping';
import {missing} from '../../workbook/columns/plan';
import {RECIPES} from '../../workbook/columns/recipes';
import {classesOf, type LimitsFrom, type Settings} from '../../workbook/columns/settings';
import {addSettings} from '../../workbook/startLedger';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';

interface Props {
  readonly mapping: Mapping;
  readonly settings: Settings;
  readonly chosen: readonly string[];
  readonly onChosen: (recipes: readonly string[]) => void;
  readonly onLimits: (from: LimitsFrom) => void;
  /** Sheets of settings were added: the workbook has to be read again. */
  readonly onSettings: () => void;
}

/** Where limits come from, and what is added. */
export function AddSection({mapping, settings, chosen, onChosen, onLimits, onSettings}: Props) {
  const page = usePageStyles();
  const lacking = missing(mapping, settings);
  return (
    <>
      <section className={page.section} aria-labelledby="limits">
        <h2 id="limits" className={page.heading}>
          Limits
        </h2>
        <LimitsChoice mapping={mapping} settings={settings} onLimits={onLimits} onSettings={onSettings} />
      </section>
      <section className={page.section} aria-labelledby="add">
        <h2 id="add" className={page.heading}>
          What to add
        </h2>
        {RECIPES.map(({id, title, about}) => {
          const why = lacking.get(id);
          return (
            <div key={id}>
              <Checkbox
                label={title}
                checked={why === undefined && chosen.includes(id)}
                disabled={why !== undefined}
                aria-describedby={`about-${id}`}
                onChange={(_, {checked}) =>
                  onChosen(checked === true ? [...chosen, id] : chosen.filter((one) => one !== id))
                }
              />
              <div id={`about-${id}`} className={page.quiet}>
                {why ?? about}
              </div>
            </div>
          );
        })}
      </section>
    </>
  );
}

type LimitsProps = Pick<Props, 'mapping' | 'settings' | 'onLimits' | 'onSettings'>;

function LimitsChoice({mapping, settings, onLimits, onSettings}: LimitsProps) {
  const page = usePageStyles();
  const [state, setState] = useState<{busy: boolean; problem?: string}>({busy: false});
  const {limitsFrom, tables} = settings;
  const classes = classesOf(tables);
  const units = mapping.runoutUnit === 'in' ? 'us' : 'metric';
  const lacks = ['Limits', 'Planes', 'Prices'].filter((name) => !tables.has(name));
  const add = (): void => {
    setState({busy: true});
    addSettings(units).then(
      () => {
        setState({busy: false});
        onSettings();
      },
      (error: unknown) => setState({busy: false, problem: (error as Error).message}),
    );
  };
  return (
    <div className={page.stack}>
      <RadioGroup
        aria-label="Where the limits come from"
        value={limitsFrom.kind}
        onChange={(_, {value}) =>
          onLimits(value === 'one class' ? {kind: value, name: classes[0]} : {kind: value as 'columns' | 'class'})
        }
      >
        {mapping.columns.has('Limits') && <Radio value="columns" label="This sheet’s own columns" />}
        {classes.length > 0 && mapping.columns.has('Class') && (
          <Radio value="class" label="Table Limits, by the class of each wheel" />
        )}
        {classes.length > 0 && <Radio value="one class" label="Table Limits, one class for all" />}
      </RadioGroup>
      {limitsFrom.kind === 'one class' && (
        <Field label="Class for all" size="small">
          <Select
            size="small"
            value={limitsFrom.name}
            onChange={(_, {value}) => onLimits({kind: 'one class', name: value})}
          >
            {classes.map((name) => (
              <option key={name}>{name}</option>
            ))}
          </Select>
        </Field>
      )}
      {lacks.length > 0 && (
        <>
          <p>
            This workbook has no table {lacks.join(', ')}. Wheel Ledger can add sheets of limits, prices, positions and
            planes with starter values in {units === 'us' ? 'inches and ounces' : 'millimeters and grams'}: common
            practice, yours to change.
          </p>
          <div className={page.row}>
            <Button onClick={add} disabled={state.busy}>
              Add the sheets
            </Button>
            {state.busy && <Spinner size="tiny" label="Adding the sheets …" />}
          </div>
        </>
      )}
      {state.problem !== undefined && <Problem words={state.problem} />}
    </div>
  );
}

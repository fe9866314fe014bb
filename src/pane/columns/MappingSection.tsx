import {Field, Radio, RadioGroup, Select} from '@fluentui/react-components';
import {
  placeWords,
  positionsOf,
  SIDES,
  type Mapping,
  type ReadingsPlace,
  type Side,
} from '../../workbook/columns/mapping';
import type {Source} from '../../workbook/columns/source';
import type {Note} from '../../workbook/guess/workbook';
import type {Role} from '../../workbook/ledgerMap';
import {usePageStyles} from '../shared/styles';
import {columnTitle, contradictions, EDITABLE, inOrderOf, withColumns, withReadings, type Candidate} from './model';

interface Props {
  readonly candidate: Candidate;
  readonly mapping: Mapping;
  readonly onMapping: (mapping: Mapping) => void;
}

/** What is taken for what, how sure that is, and a way to say it differently. */
export function MappingSection({candidate, mapping, onMapping}: Props) {
  const page = usePageStyles();
  const {records} = mapping;
  const said = EDITABLE.filter(([role]) => mapping.columns.has(role));
  const wrong = contradictions(mapping);
  const changed = mapping !== candidate.mapping;
  return (
    <section className={page.section} aria-labelledby="mapping">
      <h2 id="mapping" className={page.heading}>
        What the columns hold
      </h2>
      {candidate.doubts.length > 0 && !changed && (
        <>
          <p>Look at this first, it is not sure:</p>
          <ul className={page.list}>
            {candidate.doubts.map((doubt) => (
              <li key={doubt}>{doubt}</li>
            ))}
          </ul>
        </>
      )}
      {wrong.length > 0 && (
        <div role="alert">
          {wrong.map((words) => (
            <p key={words}>{words}</p>
          ))}
        </div>
      )}
      <dl className={page.figures}>
        {SIDES.map((side) => (
          <Entry
            key={side}
            name={side}
            note={changed ? undefined : candidate.notes.get(side)}
            words={
              mapping.readings.has(side)
                ? `${placeWords(mapping.readings.get(side)!, records)} (${positionsOf(mapping.readings.get(side))})`
                : 'not found'
            }
          />
        ))}
        {said.map(([role]) => {
          const {first, last} = mapping.columns.get(role)!;
          const to = last > first ? ` to ${columnTitle(records, last)}` : '';
          return (
            <Entry
              key={role}
              name={role}
              note={changed ? undefined : candidate.notes.get(role)}
              words={`${columnTitle(records, first)}${to}`}
            />
          );
        })}
      </dl>
      <Field label="Unit of the readings">
        <RadioGroup
          layout="horizontal"
          value={mapping.runoutUnit}
          onChange={(_, {value}) => onMapping({...mapping, runoutUnit: value})}
        >
          <Radio value="mm" label="mm" />
          <Radio value="in" label="inches" />
        </RadioGroup>
      </Field>
      {mapping.columns.has('Unbalance') && (
        <Field label="Unit of the weights">
          <RadioGroup
            layout="horizontal"
            value={mapping.weightUnit}
            onChange={(_, {value}) => onMapping({...mapping, weightUnit: value})}
          >
            <Radio value="g" label="g" />
            <Radio value="oz" label="oz" />
          </RadioGroup>
        </Field>
      )}
      <Field label="Positions are numbered, seen from outboard">
        <RadioGroup
          layout="horizontal"
          value={mapping.clockwise ? 'clockwise' : 'counter'}
          onChange={(_, {value}) => onMapping({...mapping, clockwise: value === 'clockwise'})}
        >
          <Radio value="clockwise" label="clockwise" />
          <Radio value="counter" label="counter-clockwise" />
        </RadioGroup>
      </Field>
      <details>
        <summary>Change what is taken for what</summary>
        <div className={page.stack}>
          {SIDES.map((side) => (
            <SideFields key={side} side={side} mapping={mapping} onMapping={onMapping} />
          ))}
          {EDITABLE.map(([role, takes]) => (
            <RoleFields key={role} role={role} takes={takes} mapping={mapping} onMapping={onMapping} />
          ))}
        </div>
      </details>
    </section>
  );
}

function Entry({name, words, note}: {readonly name: Role; readonly words: string; readonly note: Note | undefined}) {
  return (
    <>
      <dt>{name}</dt>
      <dd>
        {words}
        {note !== undefined && !note.sure && <em> – not sure</em>}
      </dd>
    </>
  );
}

interface ColumnSelectProps {
  readonly label: string;
  readonly source: Source;
  readonly value: number | undefined;
  /** A choice of its own: nothing. */
  readonly none?: string;
  readonly onChange: (column: number | undefined) => void;
}

function ColumnSelect({label, source, value, none, onChange}: ColumnSelectProps) {
  return (
    <Field label={label} size="small">
      <Select
        size="small"
        value={value === undefined ? '' : String(value)}
        onChange={(_, {value: chosen}) => onChange(chosen === '' ? undefined : Number(chosen))}
      >
        {none !== undefined && <option value="">{none}</option>}
        {source.headings.map((_, i) => (
          <option key={i} value={String(i)}>
            {columnTitle(source, i)}
          </option>
        ))}
      </Select>
    </Field>
  );
}

type Changing = Pick<Props, 'mapping' | 'onMapping'>;

function SideFields({side, mapping, onMapping}: Changing & {readonly side: Side}) {
  const place = mapping.readings.get(side);
  const {records} = mapping;
  const change = (next: ReadingsPlace | undefined): void => onMapping(withReadings(mapping, side, next));
  if (place?.kind === 'list') {
    const {source} = place;
    return (
      <>
        <ColumnSelect
          label={`${side}: readings`}
          source={source}
          value={place.value}
          none="none"
          onChange={(value) => change(value === undefined ? undefined : {...place, value})}
        />
        <ColumnSelect
          label={`${side}: in the order of`}
          source={source}
          value={place.at}
          none="the rows"
          onChange={(at) => change(inOrderOf(place, at))}
        />
        <KeyFields side={side} place={place} mapping={mapping} onChange={change} />
      </>
    );
  }
  const source = place?.kind === 'other row' ? place.source : records;
  const span = place?.span;
  const spanned = (first: number, last: number): ReadingsPlace =>
    place?.kind === 'other row' ? {...place, span: {first, last}} : {kind: 'row', span: {first, last}};
  return (
    <>
      <ColumnSelect
        label={`${side}: first`}
        source={source}
        value={span?.first}
        none="none"
        onChange={(first) =>
          change(
            first === undefined
              ? undefined
              : // The run keeps its length when it is moved.
                spanned(first, Math.min(source.headings.length - 1, first + (span ? span.last - span.first : 15))),
          )
        }
      />
      {span !== undefined && (
        <ColumnSelect
          label={`${side}: last`}
          source={source}
          value={span.last}
          onChange={(last) => change(spanned(span.first, Math.max(span.first, last ?? span.last)))}
        />
      )}
      {place?.kind === 'other row' && <KeyFields side={side} place={place} mapping={mapping} onChange={change} />}
    </>
  );
}

interface KeyProps {
  readonly side: Side;
  readonly place: Exclude<ReadingsPlace, {kind: 'row'}>;
  readonly mapping: Mapping;
  readonly onChange: (place: ReadingsPlace) => void;
}

/** Which column of the records and which elsewhere name the same wheel. */
function KeyFields({side, place, mapping, onChange}: KeyProps) {
  if (mapping.firstOf !== undefined) return null;
  return (
    <>
      {place.keys.map((key, i) => (
        <ColumnSelect
          key={i}
          label={`${side}: “${place.source.headings[key.other]}” there is here`}
          source={mapping.records}
          value={key.own}
          onChange={(own) =>
            onChange({...place, keys: place.keys.map((old, k) => (k === i ? {...old, own: own ?? old.own} : old))})
          }
        />
      ))}
    </>
  );
}

function RoleFields({
  role,
  takes,
  mapping,
  onMapping,
}: Changing & {readonly role: Role; readonly takes: 1 | 4 | 'span'}) {
  const span = mapping.columns.get(role);
  const {records} = mapping;
  const edge = records.headings.length - 1;
  return (
    <>
      <ColumnSelect
        label={takes === 1 ? role : `${role}: first`}
        source={records}
        value={span?.first}
        none="none"
        onChange={(first) =>
          onMapping(
            withColumns(
              mapping,
              role,
              first,
              first === undefined || takes === 1 ? undefined : Math.min(edge, first + (takes === 4 ? 3 : 1)),
            ),
          )
        }
      />
      {takes === 'span' && span !== undefined && (
        <ColumnSelect
          label={`${role}: last`}
          source={records}
          value={span.last}
          onChange={(last) => onMapping(withColumns(mapping, role, span.first, last))}
        />
      )}
    </>
  );
}

import {Button, Combobox, Field, Option} from '@fluentui/react-components';
import {useState} from 'react';
import {usePageStyles} from '../shared/styles';
import type {Job} from './vehicleModel';

interface Props {
  readonly jobs: readonly Job[];
  readonly chosen: Job | undefined;
  /** The job is that of the selected record. */
  readonly follows: boolean;
  /** Undefined: follow the selection. */
  readonly onChoose: (name: string | undefined) => void;
}

/** Options shown at once; typing narrows them. */
const SHOWN = 50;

const words = ({name, vehicle}: Job): string => [name, vehicle].filter((word) => word !== '').join(' · ');

/** Chooses a job by its number or vehicle, typed or picked. */
export function JobPicker({jobs, chosen, follows, onChoose}: Props) {
  const page = usePageStyles();
  const [typed, setTyped] = useState<string>();
  const asked = (typed ?? '').trim().toLowerCase();
  const fitting = jobs.filter((job) => words(job).toLowerCase().includes(asked));
  return (
    <Field
      label="Job"
      hint={follows ? 'That of the selected record.' : 'Chosen here; the selection does not change it.'}
      size="small"
    >
      <div className={page.row}>
        <Combobox
          size="small"
          freeform
          style={{minWidth: 0, width: '220px'}}
          input={{style: {minWidth: 0}}}
          placeholder="Type or pick"
          value={typed ?? (chosen === undefined ? '' : words(chosen))}
          selectedOptions={chosen === undefined ? [] : [chosen.name]}
          onChange={(event) => setTyped(event.target.value)}
          onOptionSelect={(_, {optionValue}) => {
            setTyped(undefined);
            if (optionValue !== undefined) onChoose(optionValue);
          }}
          onBlur={() => setTyped(undefined)}
        >
          {fitting.slice(0, SHOWN).map((job) => (
            <Option key={job.name} value={job.name} text={words(job)}>
              {words(job)}
            </Option>
          ))}
        </Combobox>
        {!follows && (
          <Button size="small" onClick={() => onChoose(undefined)}>
            Follow the selection
          </Button>
        )}
      </div>
    </Field>
  );
}

import {Field, Input} from '@fluentui/react-components';
import {useEffect, useState} from 'react';

interface Props {
  readonly label: string;
  readonly value: number | undefined;
  readonly onNumber: (value: number | undefined) => void;
  readonly unit?: string;
  readonly least?: number;
  readonly most?: number;
  /** Only whole numbers. */
  readonly whole?: boolean;
  /** The field may stay empty. */
  readonly optional?: boolean;
}

/** What a person typed as a number; a comma serves as well as a point. */
export function typedNumber(text: string): number | undefined {
  const plain = text
    .trim()
    .replace(/\u2212/g, '-')
    .replace(',', '.');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : undefined;
}

/** A number to be typed; what is no number, or out of range, is said beside the field and not passed on. */
export function NumberField({label, value, onNumber, unit, least, most, whole = false, optional = false}: Props) {
  const [text, setText] = useState(() => shown(value));
  // A value that comes from elsewhere, such as a plane being dragged, replaces the text; one's own typing does not.
  useEffect(() => {
    setText((old) => (typedNumber(old) === value ? old : shown(value)));
  }, [value]);
  const wrong = (typed: string): string | undefined => {
    if (optional && typed.trim() === '') return undefined;
    const number = typedNumber(typed);
    if (number === undefined || (whole && !Number.isInteger(number))) return whole ? 'A whole number.' : 'A number.';
    if (least !== undefined && number < least) return `At least ${least}.`;
    return most !== undefined && number > most ? `At most ${most}.` : undefined;
  };
  const problem = wrong(text);
  return (
    <Field label={label} size="small" {...(problem === undefined ? {} : {validationMessage: problem})}>
      <Input
        size="small"
        inputMode="decimal"
        style={{width: '112px', minWidth: 0}}
        input={{style: {minWidth: 0}}}
        value={text}
        {...(unit === undefined ? {} : {contentAfter: unit})}
        onChange={(_, {value: typed}) => {
          setText(typed);
          if (wrong(typed) === undefined) onNumber(typed.trim() === '' ? undefined : typedNumber(typed));
        }}
      />
    </Field>
  );
}

const shown = (value: number | undefined): string => (value === undefined ? '' : String(Number(value.toPrecision(6))));

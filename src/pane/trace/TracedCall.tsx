import {Button, Link, makeStyles, tokens} from '@fluentui/react-components';
import {useState} from 'react';
import {rawsOf} from '../../audit/calls';
import type {CallMade} from '../../audit/trace';
import {fullAddress, type Area} from '../../workbook/addresses';
import type {Working} from '../../working/workingOf';
import {Problem} from '../shared/Problem';
import {fetched} from '../shared/fetched';
import {usePageStyles} from '../shared/styles';
import {useReading, lastOf} from '../shared/useReading';
import {Steps} from './Steps';
import {areaOf, areasOf, asText, callName, openWords, valuesOf} from './words';
import type {NewlyWritten} from './NewSheet';
import {WriteWorking} from './WriteWorking';

const useStyles = makeStyles({
  code: {fontFamily: tokens.fontFamilyMonospace, fontSize: tokens.fontSizeBase200, overflowWrap: 'anywhere'},
  value: {fontVariantNumeric: 'tabular-nums', overflowWrap: 'anywhere'},
});

interface Props {
  readonly call: CallMade;
  readonly cell: Area;
  readonly formula: string;
  /** The formula is this call and nothing else. */
  readonly isWhole: boolean;
  /** It stands within another call. */
  readonly isInner: boolean;
  readonly go: (area: Area) => void;
  readonly onWritten: (written: NewlyWritten) => void;
}

/** A call of a function: its arguments with where they come from, and its working. */
export function TracedCall({call, cell, formula, isWhole, isInner, go, onWritten}: Props) {
  const page = usePageStyles();
  const styles = useStyles();
  const name = callName(call);
  const reading = useReading(async (): Promise<Working | string> => {
    const {workingOf} = await fetched(() => import(/* webpackChunkName: "working" */ '../../working/workingOf'));
    const sources = new Map(call.args.flatMap(({name: of, from}) => (from ? [[of, areaOf(from)] as const] : [])));
    try {
      return await workingOf(call.declaration.name, rawsOf(call.declaration, call.args), (of) => sources.get(of));
    } catch (error) {
      return (error as Error).message;
    }
  }, [call]);
  const working = lastOf(reading);
  return (
    <section aria-label={name} className={page.stack}>
      <h2 className={page.heading}>
        {name}
        {isInner ? ', within it' : ''}
      </h2>
      {!isInner && <p className={styles.code}>{formula}</p>}
      <p>{call.declaration.summary}</p>
      <dl className={page.list}>
        {call.args.map((argument) => (
          <div key={argument.name}>
            <dt>
              <strong>{argument.name}</strong> <span className={styles.value}>{valuesOf(argument.raw)}</span>
            </dt>
            <dd className={page.quiet}>
              {areasOf(argument).map((area) => (
                <Link as="button" key={fullAddress(area)} onClick={() => go(area)}>
                  Go to {fullAddress(area)}
                </Link>
              ))}
              {argument.text !== '' &&
                argument.from === undefined &&
                argument.reads.length === 0 &&
                'typed in the formula'}
            </dd>
          </div>
        ))}
      </dl>
      <p>
        Answer: <span className={styles.value}>{valuesOf(call.answer)}</span>
      </p>
      {reading.kind === 'problem' && <Problem words={reading.words} />}
      {typeof working === 'string' && <p role="status">The function refuses: {working}</p>}
      {working !== undefined && typeof working !== 'string' && (
        <>
          {openWords(working).map((words) => (
            <p key={words} role="status">
              {words}
            </p>
          ))}
          <Steps working={working} go={go} />
          <div className={page.row}>
            <CopyButton text={() => asText(call, working, cell)} />
          </div>
          <WriteWorking
            working={working}
            cell={cell}
            formula={formula}
            isWhole={isWhole}
            answer={call.answer}
            onWritten={onWritten}
          />
        </>
      )}
    </section>
  );
}

/** Puts a text on the clipboard, and says so. */
function CopyButton({text}: {readonly text: () => string}) {
  const [said, setSaid] = useState<string>();
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(text());
      setSaid('Copied.');
    } catch {
      setSaid('Excel does not let the pane use the clipboard; write the working to a sheet instead.');
    }
  };
  return (
    <>
      <Button size="small" onClick={() => void copy()}>
        Copy
      </Button>
      {said !== undefined && <span role="status">{said}</span>}
    </>
  );
}

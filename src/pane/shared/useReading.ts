import {useEffect, useState} from 'react';

/** What is being read for a view. */
export type Reading<T> =
  | {readonly kind: 'reading'; readonly last: T | undefined}
  | {readonly kind: 'read'; readonly value: T}
  | {readonly kind: 'problem'; readonly words: string};

/** Reads anew whenever one of the things that it depends on changes; an answer that was overtaken is dropped. */
export function useReading<T>(read: () => Promise<T>, on: readonly unknown[]): Reading<T> {
  const [state, setState] = useState<Reading<T>>({kind: 'reading', last: undefined});
  useEffect(() => {
    let current = true;
    setState((old) => ({
      kind: 'reading',
      last: old.kind === 'read' ? old.value : old.kind === 'reading' ? old.last : undefined,
    }));
    read().then(
      (value) => {
        if (current) setState({kind: 'read', value});
      },
      (error: unknown) => {
        if (current) setState({kind: 'problem', words: (error as Error).message});
      },
    );
    return () => {
      current = false;
    };
    // What is read depends on these alone.
  }, on);
  return state;
}

/** What was read last, while it is read anew. */
export const lastOf = <T>(state: Reading<T>): T | undefined =>
  state.kind === 'read' ? state.value : state.kind === 'reading' ? state.last : undefined;

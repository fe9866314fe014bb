/** Makes calls of every function in turn, round after round, and gathers what is found. */
import fc from 'fast-check';
import {CATALOGUE} from '../../functions/catalogue';
import type {Caller} from './caller';
import {callsOf, type Call, type MadeUp} from './calls';
import type {Verdict} from './judge';

/** So many calls of one function, then the next function's. */
const ROUND = 100;

/** A function that was found faulty so often is left alone. */
const ENOUGH = 3;

/** A call that was found faulty is made simpler for so many milliseconds at most: slow ones would take many minutes. */
const SIMPLER = 60_000;

export interface Finding {
  readonly call: Call;
  readonly fault: string;
}

export interface Tally {
  calls: number;
  answered: number;
}

export interface Figures {
  readonly findings: readonly Finding[];
  readonly near: Tally;
  readonly hostile: Tally;
  /** By function: near-valid calls and how many of them were answered. */
  readonly functions: ReadonlyMap<string, Tally>;
  /** The longest call in milliseconds, and whose. */
  readonly slowest: {readonly took: number; readonly name: string};
}

/** @param progress told the calls made so far, now and then */
export async function fuzz(
  {make, patience}: Caller,
  runs: number,
  seed: number,
  names: readonly string[] = [],
  progress: (calls: number) => void = () => undefined,
): Promise<Figures> {
  const findings: Finding[] = [];
  const [near, hostile]: Tally[] = [
    {calls: 0, answered: 0},
    {calls: 0, answered: 0},
  ];
  const chosen = CATALOGUE.filter(({name}) => names.length === 0 || names.includes(name));
  const functions = new Map(chosen.map(({name}) => [name, {calls: 0, answered: 0}]));
  const calls = new Map(chosen.map((declared) => [declared.name, callsOf(declared)]));
  const found = new Map<string, number>();
  let slowest = {took: 0, name: ''};

  function count({name, near: valid}: MadeUp, {outcome, took}: Verdict): void {
    for (const tally of valid ? [near, functions.get(name)!] : [hostile]) {
      tally.calls++;
      if (outcome === 'answer') tally.answered++;
    }
    if (took > slowest.took) slowest = {took, name};
  }

  async function round(name: string, size: number, number: number): Promise<void> {
    let fault = '';
    let endless = 0;
    let foundAt = Infinity;
    const property = fc.asyncProperty(calls.get(name)!, async (call) => {
      // A call that never ends is made simpler once; more would take too long.
      if (endless > 1 || Date.now() - foundAt > SIMPLER) return true;
      const verdict = await make(call);
      if (verdict.took >= patience) endless++;
      count(call, verdict);
      if (verdict.later !== undefined) findings.push(verdict.later);
      if (verdict.fault === undefined) return true;
      fault = verdict.fault;
      foundAt = Math.min(foundAt, Date.now());
      return false;
    });
    const index = CATALOGUE.findIndex((declared) => declared.name === name);
    const {failed, counterexample, errorInstance} = await fc.check(property, {
      seed: Math.imul(seed, 0x85ebca6b) ^ Math.imul(number * CATALOGUE.length + index + 1, 0x9e3779b1),
      numRuns: size,
    });
    if (errorInstance instanceof Error && fault === '') throw errorInstance;
    if (!failed || counterexample === null) return;
    found.set(name, (found.get(name) ?? 0) + 1);
    findings.push({call: counterexample[0], fault});
  }

  for (let number = 0; near.calls + hostile.calls < runs; number++) {
    const left = chosen.filter(({name}) => (found.get(name) ?? 0) < ENOUGH);
    if (left.length === 0) break;
    for (const {name} of left) {
      const size = Math.min(ROUND, runs - near.calls - hostile.calls);
      if (size <= 0) break;
      await round(name, size, number);
    }
    progress(near.calls + hostile.calls);
  }
  return {findings, near, hostile, functions, slowest};
}

/**
 * The written-out working of a call: what the pane and WHEEL.WORKING use of this folder. It brings mathjs along, so it is
 * fetched lazily:
 *
 *   const {workingOf, writeWorking} = await import(/* webpackChunkName: "working" *\/ '../working/workingOf');
 *   const working = await workingOf('MATCH', [[[0.8, 40]], [[0.6, 100]]], (argument) => ranges.get(argument));
 *
 * working.steps is what to read, in order; working.figures says which step gives which figure of the answer.
 * writeWorking(working, {title, note, firstRow: 0, answer}) lays it out as cells with native formulas that need no
 * add-in, or says why it does not. When many calls are checked, loadWorkings() once and then workingAtOnce().
 */
import {CATALOGUE} from '../functions/catalogue';
import type {Raw} from '../functions/cells';
import {provideWorking} from '../functions/listed';
import {loadRecorders} from '../functions/workings/recorders';
import {workingTable} from './table';
import {workingAtOnce, type Sources, type Working} from './working';

export {workingAtOnce, writeWorking} from './working';
export type {Sources, Working, WorkingFigure, WorkingStep, Writing} from './working';
export type {NotLaidOut, SheetCell, WorkingSheet} from './sheet';
export type {RangeOfSheet} from './addresses';

/** Fetches what workings need and gives WHEEL.WORKING what it lists them with. */
export async function loadWorkings(): Promise<void> {
  await loadRecorders(CATALOGUE);
  provideWorking(workingTable);
}

/**
 * The working of a call.
 * @param name of the function, in any letter case, with or without the namespace
 * @param args as the function gets them: a range as rows of cells, an omitted argument as null
 * @param sources the ranges that arguments were read from
 * @throws Refusal as the function itself does
 * @throws Error when there is no such function
 */
export async function workingOf(name: string, args: readonly Raw[], sources?: Sources): Promise<Working> {
  await loadWorkings();
  return workingAtOnce(name, args, sources);
}

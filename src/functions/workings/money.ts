/** Workings of the functions on money. */
import {upTo} from './fit';
import type {Steps} from './steps';

export function matchValueSteps(s: Steps): void {
  for (const [symbol, argument, unit, says] of [
    ['W', 'weightBefore', 'mass', 'weights needed without it'],
    ['w', 'weightAfter', 'mass', 'weights needed after it'],
    ['p', 'weightPrice', 'money per mass', 'price of weights'],
    ['t', 'minutes', 'min', 'labor'],
    ['h', 'laborRate', 'money per hour', 'price of labor'],
    ['R', 'riskBefore', '', 'probability of a comeback without it'],
    ['r', 'riskAfter', '', 'probability of a comeback after it'],
    ['c', 'comebackCost', 'money', 'what a comeback costs'],
  ])
    s.input(symbol, argument, 0, unit, says);
  s.figure('saved', 'W - w', {unit: 'as weightBefore', says: 'weight saved', part: 'saved'})
    .figure('weightsaving', 'saved*p', {unit: 'money', says: 'what that weight costs', part: 'weightsaving'})
    .figure('labor', 't/60*h', {unit: 'money', says: 'what the labor costs', part: 'labor'})
    .figure('riskaverted', '(R - r)*c', {unit: 'money', says: 'cost of comebacks averted', part: 'riskaverted'})
    .figure('gain', 'weightsaving + riskaverted', {unit: 'money', says: 'before labor'})
    .figure('net', 'gain - labor', {unit: 'money', says: 'what is left', part: 'net'})
    .figure('breakeven', 'gain < 0 or h == 0 ? none() : 60*gain/h', {
      unit: 'min',
      says: 'minutes at which net is 0',
      part: 'breakeven',
    });
}

export function choiceSteps(s: Steps, {costs}: {costs: number[][]}): void {
  const n = costs.flat().length;
  s.input('c', 'comebackCost', 0, 'money', 'what a comeback costs')
    .rows('actions', n)
    .columnConstant('actions', 'i', upTo(n), 'action')
    .columnInput('actions', 'k', 'costs', 'its cost', undefined, 'money')
    .columnInput('actions', 'p', 'risks', 'probability of a comeback after it', undefined, '')
    .column('actions', 'e', 'k + p*c', 'expected cost', 'money')
    .figure('expected', 'min(e)', {unit: 'money', says: 'the least of them', part: 'expected'})
    .figure('choice', 'lookup(expected, e, i)', {says: 'the first action that costs so little', part: 'choice'});
}

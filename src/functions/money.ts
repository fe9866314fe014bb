/** Whether it is worth it. Any currency, the same throughout. */
import {cheapest, matchValue} from '../maths/money';
import {invalid} from '../maths/refusal';
import {part} from './answers';
import {amount, number, numbers, optional} from './arguments';
import {family} from './declare';

const {functions, declare} = family('Money');
export const MONEY = functions;

const moneyWorking = () => import(/* webpackChunkName: "working" */ './workings/money');

const RISK = {what: 'a probability', least: 0, most: 1};
const cost = amount('what a comeback costs', 'a price');

declare({
  name: 'MATCHVALUE',
  summary:
    'What turning the tire on the rim is worth: weight saved and comebacks averted, less labor; and how long it may take.',
  arguments: {
    weightBefore: amount('weights needed without it', 'a mass'),
    weightAfter: amount('weights needed after it', 'a mass'),
    weightPrice: amount('price of weights per mass', 'a price'),
    minutes: amount('minutes of labor', 'a time'),
    laborRate: amount('price of an hour of labor', 'a price'),
    riskBefore: optional(number('probability of a comeback without it', RISK), 0),
    riskAfter: optional(number('probability of a comeback after it', RISK), 0),
    comebackCost: optional(cost, 0),
  },
  parts: {
    saved: part('weight saved', 'as weightBefore'),
    weightsaving: part('what that weight costs', 'money'),
    labor: part('what the labor costs', 'money'),
    riskaverted: part('cost of comebacks averted', 'money'),
    net: part('weightsaving + riskaverted − labor', 'money'),
    breakeven: part(
      'minutes at which net is 0',
      'min',
      'there is no such time: nothing is gained, or labor costs nothing',
    ),
  },
  answer: (given) => matchValue(given),
  working: async () => (await moneyWorking()).matchValueSteps,
  mathematics:
    'saved = weightBefore − weightAfter; weightsaving = saved·weightPrice; labor = minutes/60·laborRate; riskaverted = (riskBefore − riskAfter)·comebackCost; net = weightsaving + riskaverted − labor; breakeven = 60·(weightsaving + riskaverted)/laborRate.',
  source: 'sums and differences',
  errors: ['breakeven is #N/A when nothing is gained or labor costs nothing'],
  example: {formula: '=WHEEL.MATCHVALUE(120,40,0.05,15,60,0.1,0.02,200)', gives: [[80, 4, 15, 16, 5, 20]]},
});

declare({
  name: 'CHOICE',
  summary: 'Which action costs least when the risk of a comeback is counted.',
  arguments: {
    costs: numbers('cost of each action', {what: 'a price', least: 0}),
    risks: numbers('probability of a comeback after each', RISK),
    comebackCost: cost,
  },
  parts: {choice: part('number of the action, from 1', ''), expected: part('its cost + risk × comebackCost', 'money')},
  answer: ({costs, risks, comebackCost}) => {
    const [prices, chances] = [costs.flat(), risks.flat()];
    if (chances.length !== prices.length) {
      throw invalid(`as many cells as costs has are wanted, ${prices.length}, found ${chances.length}`, 'risks');
    }
    const {choice, expected} = cheapest(prices, chances, comebackCost);
    return {choice: choice + 1, expected};
  },
  working: async () => (await moneyWorking()).choiceSteps,
  mathematics: 'Least cost + risk·comebackCost; equal: the earlier action.',
  source: 'expected cost',
  example: {formula: '=WHEEL.CHOICE({0,15,90},{0.2,0.05,0.01},200)', gives: [[2, 25]]},
});

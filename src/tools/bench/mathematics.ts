/** What is measured of the mathematics, for one bundle: built as for the add-in, without a loader in between. */
export {harmonic, fit} from '../../maths/harmonics';
export {tir} from '../../maths/closure';
export {matchCurve} from '../../maths/matchCurve';
export {pair} from '../../maths/pair';
export {stockPair} from '../../maths/stockPair';
export {readings, takeBackBuffers} from '../../functions/arguments';
export {harmonicsSum, unevenSum} from './ours/harmonicsSum';
export {turnByBruteForce} from './peers/turnByBruteForce';
export {stockByEnumeration} from './peers/stockByEnumeration';

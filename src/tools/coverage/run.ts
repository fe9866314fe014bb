/** `npm run coverage-study`: prints how many 95 % intervals hold the truth, from seeded trials. */
import {study} from './study';

const trials = Number(process.argv[2] ?? 20000);
const seed = Number(process.argv[3] ?? 1);
if (!(Number.isInteger(trials) && trials > 0 && Number.isInteger(seed))) {
  console.error('Usage: npm run coverage-study [-- trials [seed]], both whole numbers');
  process.exit(2);
}

console.log(`95 % intervals that hold the truth, ${trials} trials each, seed ${seed}`);
console.log(`(the standard error of a share of 95 % is ${(100 * Math.sqrt((0.95 * 0.05) / trials)).toFixed(2)} %)`);
for (const {figure, situation, fails, share} of study(trials, seed)) {
  const note = fails === undefined ? '' : `  (the approximation is ${fails} here)`;
  console.log(`${(100 * share).toFixed(2).padStart(7)} %  ${figure}: ${situation}${note}`);
}

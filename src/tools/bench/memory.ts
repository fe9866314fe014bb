/** Prints how much memory one call of EACHROW takes at most, and how much its input takes: bytes, as JSON. */
import {asCells, readingRows} from './data';
import {builtFunction} from './workloads/calls';

const rows = Number(process.argv[2]);
const collect = (globalThis as {gc?: () => void}).gc!;
const call = builtFunction('EACHROW');
call('HARMONIC', [asCells(readingRows(100, 16), 16)]);
// Zero-filled numbers of one row are shared by none: each cell is a number of its own, as in Excel's arrays.
const values = readingRows(rows, 16);
collect();
const before = process.memoryUsage().heapUsed;
const cells = asCells(values, 16);
collect();
const input = process.memoryUsage().heapUsed - before;
const resident = process.memoryUsage().rss;
const used = process.memoryUsage().heapUsed;
const answer = call('HARMONIC', [cells]) as unknown[];
// What was resident already may have been used again: the heap as the call leaves it, garbage included, counts as well.
const more = Math.max(process.resourceUsage().maxRSS * 1024 - resident, process.memoryUsage().heapUsed - used);
if (answer.length !== cells.length) throw new Error('EACHROW lost rows');
console.log(JSON.stringify({input, more: Math.max(0, more)}));

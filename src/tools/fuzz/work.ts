/** Makes the calls in a thread of its own, so that one that never ends can be ended. */
import {parentPort, workerData} from 'node:worker_threads';
import {functionsOf} from './bundle';
import type {Call} from './calls';
import {judge} from './judge';

const verdict = judge(await functionsOf(workerData as string));
parentPort!.on('message', (call: Call) => parentPort!.postMessage(verdict(call)));
parentPort!.postMessage('ready');

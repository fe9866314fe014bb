import path from 'node:path';
import {fileURLToPath} from 'node:url';

export const SOURCES = path.dirname(fileURLToPath(import.meta.url));
export const ROOT = path.resolve(SOURCES, '../../..');
export const OUT = path.join(ROOT, 'out', 'bench');

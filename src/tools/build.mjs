import {ready} from './ready.mjs';

ready();

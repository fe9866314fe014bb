export {normalFrom, randomFrom} from '../../src/tools/random';

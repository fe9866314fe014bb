/** Steps that say for themselves whether what a search or a parse found still holds: 1 while it does. */
import type {WorkingStep} from './working';

type Guard = Pick<WorkingStep, 'says' | 'value'>;

/** Their words begin so by agreement. */
export const isGuard = ({says}: Pick<WorkingStep, 'says'>): boolean => says.startsWith('1 while');

/** Those that are not 1: the working leaves open whether what was found is right. */
export const openGuards = <Step extends Guard>(steps: readonly Step[]): readonly Step[] =>
  steps.filter((step) => isGuard(step) && step.value !== undefined && step.value !== 1);

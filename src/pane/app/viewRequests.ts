/** Commands of the ribbon ask for a view; the pane may not be there yet, so the last wish is kept. */
import {VIEWS, type View} from './views';

type Listener = (view: View) => void;

let wish: View | undefined;
let listener: Listener | undefined;

/** Views that a command of the ribbon opens. */
export type Requested = 'Columns' | 'Trace';

export function requestView(name: Requested): void {
  const view = VIEWS.find((one) => (one as string) === name);
  if (view === undefined) return;
  wish = view;
  listener?.(view);
}

/** The view that was asked for before anybody listened. */
export const requestedView = (): View | undefined => wish;

/** @returns a function that ends the listening */
export function onViewRequest(listen: Listener): () => void {
  listener = listen;
  return () => {
    listener = undefined;
  };
}

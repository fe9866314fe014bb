/** The views of the pane, in the order of its tabs. */
export const VIEWS = ['Wheel', 'Vehicle', 'Columns', 'Cost', 'Trace', 'Functions'] as const;

export type View = (typeof VIEWS)[number] | 'About';

/** Data colors of native charts: those of the pane, on white paper. Dashes and weights are the second cue. */
export const RIM = {name: 'rim', color: '#0072B2', weight: 1.5, dash: false} as const;
export const TIRE = {name: 'tire', color: '#D55E00', weight: 1.5, dash: true} as const;
export const ASSEMBLY = {name: 'assembly', color: '#404040', weight: 2.5, dash: false} as const;
export const LIMIT = {name: 'limit', color: '#B3B3B3', weight: 1, dash: false} as const;

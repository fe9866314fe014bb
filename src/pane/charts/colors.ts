/** Data colors, the same in every chart and safe for color-blind readers; each has a second cue besides. */
export const RIM = {color: '#0072B2', dash: undefined, width: 1.5} as const;
export const TIRE = {color: '#D55E00', dash: '5 3', width: 1.5} as const;
/** Dark gray on a light page, light gray on a dark one. */
export const ASSEMBLY = {color: 'var(--assembly)', dash: undefined, width: 2.5} as const;

export const ASSEMBLY_LIGHT = '#404040';
export const ASSEMBLY_DARK = '#D0D0D0';

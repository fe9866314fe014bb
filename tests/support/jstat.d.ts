declare module 'jstat' {
  export const jStat: {centralF: {cdf(x: number, df1: number, df2: number): number}};
}

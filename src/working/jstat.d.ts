declare module 'jstat' {
  interface Distribution {
    cdf(x: number, ...parameters: number[]): number;
    pdf(x: number, ...parameters: number[]): number;
    inv(p: number, ...parameters: number[]): number;
  }
  const jStat: {
    readonly studentt: Distribution;
    readonly normal: Distribution;
    readonly hypgeom: Distribution;
    readonly centralF: Distribution;
    /** Regularized incomplete beta function. */
    ibeta(x: number, a: number, b: number): number;
  };
  export default jStat;
}

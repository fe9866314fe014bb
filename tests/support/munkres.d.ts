declare module 'munkres-js' {
  export default function munkres(costs: readonly (readonly number[])[]): [number, number][];
}

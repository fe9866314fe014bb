/** Bands of rows or columns: sorted, without overlaps. */
import type {Band} from './state';

export const bandAt = (bands: readonly Band[], at: number): Band | undefined =>
  bands.find(({from, to}) => at >= from && at <= to);

/** The bands with something changed from one row or column to another. */
export function changeBands(
  bands: readonly Band[],
  from: number,
  to: number,
  change: (band: Pick<Band, 'size' | 'look'>) => Partial<Pick<Band, 'size' | 'look'>>,
): Band[] {
  const changed: Band[] = [];
  const add = (start: number, end: number, band: Pick<Band, 'size' | 'look'>): void => {
    if (start <= end) changed.push({from: start, to: end, size: band.size, look: band.look});
  };
  let next = from;
  const usual = {size: undefined, look: undefined};
  const altered = (band: Pick<Band, 'size' | 'look'>) => ({...band, ...change(band)});
  for (const band of bands) {
    if (band.to < from || band.from > to) {
      if (band.from > to && next <= to) {
        add(next, to, altered(usual));
        next = to + 1;
      }
      changed.push(band);
      continue;
    }
    add(band.from, from - 1, band);
    add(next, band.from - 1, altered(usual));
    add(Math.max(band.from, from), Math.min(band.to, to), altered(band));
    add(to + 1, band.to, band);
    next = band.to + 1;
  }
  add(next, to, altered(usual));
  return changed.filter(({size, look}) => size !== undefined || look !== undefined);
}

/** The bands after rows or columns were put in before `at`, or taken out from there. */
export function shiftBands(bands: readonly Band[], at: number, count: number): Band[] {
  const moved = (i: number): number => (count < 0 ? (i >= at - count ? i + count : at) : i >= at ? i + count : i);
  return bands.flatMap((band) => {
    const isGone = count < 0 && band.from >= at && band.to < at - count;
    if (isGone) return [];
    const from = moved(band.from);
    const to = count < 0 && band.to >= at && band.to < at - count ? at - 1 : moved(band.to);
    return from <= to ? [{...band, from, to}] : [];
  });
}

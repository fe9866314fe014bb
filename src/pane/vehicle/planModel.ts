/** What to do with the wheels of a vehicle: which tire on which rim at which turn, and which wheel to which position. */
import {shortWay} from '../../maths/angles';
import {pair} from '../../maths/pair';
import {leveled, place} from '../../maths/place';
import {sensitivityOf, type Sensitivity} from '../../workbook/sensitivities';
import {standing, type Standing} from '../wheel/weightsModel';
import {sideOf, type Side} from './sides';
import type {Vehicle, VehicleWheel} from './vehicleModel';

/** How much is done: nothing demounted, tires turned where that is the finding, or tires and rims paired anew. */
export const WORKS = ['as they are', 'turn where found', 'pair anew'] as const;

export type Work = (typeof WORKS)[number];

export interface Rules {
  readonly work: Work;
  /** Directional or handed tires stay on their side. */
  readonly keepSide: boolean;
}

/** A tire with its rim after the work; numbers are those of the vehicle's wheels, from 0. */
export interface PlannedWheel {
  readonly tire: number;
  readonly rim: number;
  /** Turn of the tire on the rim from chalk at the valve, in (−180, 180]; 0 when it is left alone. */
  readonly turn: number;
  readonly demounted: boolean;
  readonly after: number;
  readonly plusminus: number | undefined;
  readonly standing: Standing;
  /** The wheel whose position it takes. */
  readonly position: number;
}

/** Wheels of one tire size, as pairing and placing see them. */
export interface Group {
  readonly size: string;
  readonly wheels: readonly number[];
}

export interface Plan {
  readonly rules: Rules;
  readonly planned: readonly PlannedWheel[];
  readonly groups: readonly Group[];
  /** Wheels that were placed among each other's positions; none when nothing is placed. */
  readonly blocks: readonly Block[];
  readonly sensitivities: readonly (number | undefined)[];
  /** Differences smaller than this do not move a wheel. */
  readonly tolerance: number;
  /** The rules that were kept, and what could not be done, in words. */
  readonly notes: readonly string[];
}

export function groupsOf(wheels: readonly VehicleWheel[]): Group[] {
  const groups = new Map<string, number[]>();
  wheels.forEach(({size}, i) => groups.set(size, [...(groups.get(size) ?? []), i]));
  return [...groups].map(([size, members]) => ({size, wheels: members}));
}

/** Wheels, by number, that may take each other's positions. */
export type Block = readonly number[];

/** One size, and where the side counts one side; a wheel whose side is not known stands alone. */
function blocksOf(wheels: readonly VehicleWheel[], sides: readonly (Side | undefined)[] | undefined): Block[] {
  const blocks = new Map<string, number[]>();
  wheels.forEach(({size}, i) => {
    const side = sides === undefined ? '' : (sides[i] ?? `alone ${i}`);
    const key = JSON.stringify([size, side]);
    blocks.set(key, [...(blocks.get(key) ?? []), i]);
  });
  return [...blocks.values()];
}

/**
 * Places within a block, as numbers within it. Wheels that count as equally bad can swap places at no cost: each of them
 * stays where it is if that is among the places that they have together.
 */
export function placeBlock(
  severities: readonly number[],
  sensitivities: readonly number[],
  tolerance: number,
): number[] {
  const given = place(severities, sensitivities, tolerance);
  const levels = leveled(severities, tolerance);
  for (const level of new Set(levels)) {
    const equals = given.map((_, i) => i).filter((i) => levels[i] === level);
    const places = new Set(equals.map((i) => given[i]));
    const movers = equals.filter((i) => !places.delete(i));
    const rest = [...places];
    for (const i of equals) given[i] = i;
    movers.forEach((i, k) => (given[i] = rest[k]));
  }
  return given;
}

type Assembled = Omit<PlannedWheel, 'position' | 'standing'>;

/** Root of the sum of squares: tire = assembly − rim of one wheel, set on the rim of another. */
const together = (...parts: (number | undefined)[]): number | undefined =>
  parts.some((part) => part === undefined) ? undefined : Math.hypot(...(parts as number[]));

function assemble(wheels: readonly VehicleWheel[], groups: readonly Group[], work: Work): Assembled[] {
  const left = (i: number): Assembled => ({
    tire: i,
    rim: i,
    turn: 0,
    demounted: false,
    after: wheels[i].assembly.amount,
    plusminus: wheels[i].plusAssembly,
  });
  if (work === 'as they are') return wheels.map((_, i) => left(i));
  if (work === 'turn where found') {
    return wheels.map(({parts, plusAfter}, i) => {
      const {finding, turn, after} = parts.assessed!;
      if (finding !== 'match mount') return left(i);
      return {tire: i, rim: i, turn: shortWay(turn), demounted: true, after, plusminus: plusAfter};
    });
  }
  const all = new Array<Assembled>(wheels.length);
  for (const {wheels: members} of groups) {
    const pairs = pair(
      members.map((i) => wheels[i].rim),
      members.map((i) => wheels[i].tire),
      'worst',
    );
    pairs.forEach(({rim, turn, after}, k) => {
      const [i, j] = [members[k], members[rim!]];
      const {plusAssembly, plusRim, plusAfter} = wheels[i];
      all[i] = {
        tire: i,
        rim: j,
        turn: shortWay(turn!),
        demounted: i !== j || Math.abs(shortWay(turn!)) >= 0.5,
        after: after!,
        plusminus: i === j ? plusAfter : together(plusAssembly, plusRim, wheels[j].plusRim),
      };
    });
  }
  return all;
}

export function planVehicle({wheels}: Vehicle, table: readonly Sensitivity[], rules: Rules): Plan {
  const groups = groupsOf(wheels);
  const assembled = assemble(wheels, groups, rules.work);
  const notes: string[] = [];
  if (groups.length > 1) {
    const sizes = groups.map(({wheels: members}) => {
      const names = members.map((i) => wheels[i].position).join(', ');
      return `${String(wheels[members[0]].record.cells('Tire size')[0] ?? 'no size')} at ${names}`;
    });
    notes.push(
      `Tire sizes differ (${sizes.join('; ')}): tires, rims and places are only exchanged among wheels of one size.`,
    );
  }
  const sides = wheels.map(({position}) => sideOf(position));
  if (rules.keepSide) {
    notes.push('Directional or handed tires: every tire stays on its side of the vehicle, the same sidewall outward.');
    const unknown = wheels.filter((_, i) => sides[i] === undefined).map(({position}) => position);
    if (unknown.length > 0) {
      notes.push(`The side of ${unknown.join(', ')} is not plain from the name; what is there stays there.`);
    }
  }
  const blocks = blocksOf(wheels, rules.keepSide ? sides : undefined);
  const sensitivities = wheels.map((wheel) => sensitivityOf(table, wheel.class, wheel.position));
  const tolerance = Math.max(0, ...assembled.map(({plusminus}) => plusminus ?? 0));
  const positions = wheels.map((_, i) => i);
  const unknown = wheels.filter((_, i) => sensitivities[i] === undefined).map(({position}) => position);
  const placed: Block[] = [];
  if (unknown.length > 0) {
    notes.push(
      `The table Positions does not say how much the driver feels at ${unknown.join(', ')}, so every wheel stays where it is.`,
    );
  } else if (wheels.length > 1) {
    for (const block of blocks) {
      const given = placeBlock(
        block.map((i) => assembled[i].after),
        block.map((j) => sensitivities[j]!),
        tolerance,
      );
      block.forEach((wheel, k) => (positions[wheel] = block[given[k]]));
      placed.push(block);
    }
    notes.push(
      'The worst assembly goes where it is felt least; differences within the uncertainty move no wheel ahead of another.',
    );
  }
  const planned = assembled.map((wheel, i): PlannedWheel => {
    const limit = wheels[wheel.tire].model.limits!.assembly;
    return {...wheel, position: positions[i], standing: standing(wheel.after, limit, wheel.plusminus ?? 0)};
  });
  return {rules, planned, groups, blocks: placed, sensitivities, tolerance, notes};
}

/** What stands at a position before and after. */
export interface PlaceRow {
  readonly position: string;
  readonly before: number;
  readonly plusBefore: number | undefined;
  readonly after: number;
  readonly plusminus: number | undefined;
  readonly limit: number;
  readonly standing: Standing;
  /** Where the tire and the rim come from. */
  readonly from: string;
}

export function placeRows({wheels}: Vehicle, {planned}: Plan): PlaceRow[] {
  return wheels.map((wheel, j) => {
    const here = planned.find(({position}) => position === j)!;
    const [tire, rim] = [wheels[here.tire].position, wheels[here.rim].position];
    return {
      position: wheel.position,
      before: wheel.assembly.amount,
      plusBefore: wheel.plusAssembly,
      after: here.after,
      plusminus: here.plusminus,
      limit: wheels[here.tire].model.limits!.assembly,
      standing: here.standing,
      from: tire === rim ? tire : `tire of ${tire} on rim of ${rim}`,
    };
  });
}

/** The worst assembly that each kind of work leaves. */
export const worstOf = (
  vehicle: Vehicle,
  table: readonly Sensitivity[],
  keepSide: boolean,
): readonly (readonly [Work, number])[] =>
  WORKS.map((work) => [
    work,
    Math.max(...planVehicle(vehicle, table, {work, keepSide}).planned.map(({after}) => after)),
  ]);

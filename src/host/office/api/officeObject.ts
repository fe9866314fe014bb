/**
 * The objects of office.js as this host has them. A class holds the members of its counterpart under their own names, as
 * getters, setters and methods: these alone can be reached by a batch, fields and private members cannot.
 */
import type {HostBook} from '../hostBook';
import {invalid, noSuchMember, notFound, OfficeProblem} from './problem';

/** What objects need of the connection through which they were asked for. */
export interface Surrounding {
  readonly book: HostBook;
  /** The id under which the pane keeps an object until it lets it go. */
  readonly keep: (object: OfficeObject) => string;
  readonly kept: (id: string) => OfficeObject | undefined;
  readonly release: (id: string) => void;
  readonly releaseAll: () => void;
  readonly follow: (event: EventName, target: string, follow: boolean) => null;
}

/** Events that panes register for. */
export type EventName =
  | 'changed'
  | 'selectionChanged'
  | 'activated'
  | 'deactivated'
  | 'added'
  | 'deleted'
  | 'calculated'
  | 'formatChanged'
  | 'nameChanged'
  | 'tableAdded'
  | 'tableDeleted'
  | 'tableChanged'
  | 'tableSelectionChanged';

export abstract class OfficeObject {
  /** The class's name in office.js. */
  abstract readonly officeType: string;

  constructor(readonly surrounding: Surrounding) {}

  get #book(): HostBook {
    return this.surrounding.book;
  }

  /** What office.js finds the object again by. */
  identity(): Record<string, unknown> {
    return {};
  }

  /** @throws OfficeProblem for a protected sheet */
  mayChange(sheetId: string): void {
    if (this.#book.state(sheetId).protection) {
      throw new OfficeProblem('AccessDenied', 'The sheet is protected: take off its protection first.');
    }
  }
}

type Accessor = {readonly get?: () => unknown; readonly set?: (value: unknown) => void};

/** "RowCount" → "rowCount". */
const memberName = (wire: string): string => wire.charAt(0).toLowerCase() + wire.slice(1);

/** The property descriptor of a member within the classes above OfficeObject. */
export function memberOf(prototype: object, name: string): PropertyDescriptor | undefined {
  for (let at = prototype; at !== OfficeObject.prototype && at !== Object.prototype; at = Object.getPrototypeOf(at)) {
    const found = Object.getOwnPropertyDescriptor(at, name);
    if (found && name !== 'constructor') return found;
  }
  return undefined;
}

const member = (object: OfficeObject, wire: string): PropertyDescriptor => {
  const found = memberOf(Object.getPrototypeOf(object) as object, memberName(wire));
  if (!found) throw noSuchMember(`${object.officeType}.${memberName(wire)}`);
  return found;
};

export function readProperty(object: OfficeObject, wire: string): unknown {
  const {get} = member(object, wire) as Accessor;
  if (!get) throw noSuchMember(`${object.officeType}.${memberName(wire)}`);
  return get.call(object);
}

export function writeProperty(object: OfficeObject, wire: string, value: unknown): void {
  const {set} = member(object, wire) as Accessor;
  if (!set) throw noSuchMember(`${object.officeType}.${memberName(wire)} (to be set)`);
  set.call(object, value);
}

/** What Excel keeps alive on request, and how it checks an array before it comes in parts: here there is nothing to do. */
const ALWAYS: ReadonlySet<string> = new Set(['_KeepReference', '_ValidateArraySize']);

export function callMethod(object: OfficeObject, wire: string, given: readonly unknown[]): unknown {
  if (ALWAYS.has(wire)) return null;
  const found = member(object, wire).value as unknown;
  if (typeof found !== 'function') throw noSuchMember(`${object.officeType}.${memberName(wire)}()`);
  return (found as (...given: unknown[]) => unknown).apply(object, [...given]);
}

/** Properties that hold values, not objects; those that a bare load() reads. */
export function scalarNames(object: OfficeObject): string[] {
  const names = new Set<string>();
  let at = Object.getPrototypeOf(object) as object;
  for (; at !== OfficeObject.prototype; at = Object.getPrototypeOf(at) as object) {
    for (const [name, {get}] of Object.entries(Object.getOwnPropertyDescriptors(at))) if (get) names.add(name);
  }
  return [...names];
}

/** A collection: its items by their names or ids. */
export abstract class Collection<T extends OfficeObject> extends OfficeObject {
  abstract listed(): readonly T[];
  /** Whether a key means this item. */
  abstract isMeant(item: T, key: unknown): boolean;

  get count(): number {
    return this.listed().length;
  }

  getCount(): number {
    return this.listed().length;
  }

  getItem(key: unknown): T {
    const found = this.getItemOrNullObject(key);
    if (!found) throw notFound();
    return found;
  }

  getItemOrNullObject(key: unknown): T | null {
    return this.listed().find((item) => this.isMeant(item, key)) ?? null;
  }

  getItemAt(index: unknown): T {
    const found = this.listed()[number(index)];
    if (!found) throw invalid();
    return found;
  }
}

// ---- arguments ----

/** @throws OfficeProblem when it is no number */
export function number(given: unknown): number {
  if (typeof given !== 'number' || !Number.isFinite(given)) throw invalid();
  return given;
}

/** @throws OfficeProblem when it is no text */
export function text(given: unknown): string {
  if (typeof given !== 'string') throw invalid();
  return given;
}

export const isGiven = (given: unknown): boolean => given !== undefined && given !== null;

export const sameName = (a: string, b: unknown): boolean =>
  typeof b === 'string' && a.toLowerCase() === b.toLowerCase();

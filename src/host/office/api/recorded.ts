/** Parts of charts, conditional formats and page layouts that are kept as they were set, by their path. */
import {OfficeObject, type Surrounding} from './officeObject';

/** Where a part keeps what was set. */
export interface Store {
  readonly get: (path: string) => unknown;
  readonly set: (path: string, value: unknown) => void;
  /** Forgets everything below a path. */
  readonly clear: (path: string) => void;
}

export abstract class Recorded extends OfficeObject {
  constructor(
    surrounding: Surrounding,
    readonly store: Store,
    /** Such as "title.format". */
    readonly path: string,
  ) {
    super(surrounding);
  }

  below(name: string): string {
    return this.path === '' ? name : `${this.path}.${name}`;
  }
}

export type RecordedClass = new (surrounding: Surrounding, store: Store, path: string) => Recorded;

/** What a class of recorded parts has. */
export interface Members {
  /** Properties and what they are before they are set. */
  readonly values?: Readonly<Record<string, unknown>>;
  readonly parts?: Readonly<Record<string, RecordedClass>>;
  /** Methods that set a property to their argument. */
  readonly setters?: Readonly<Record<string, string>>;
  /** Methods that forget what was set. */
  readonly clearers?: readonly string[];
}

/** Gives a class properties that are kept in its store. */
export function record(of: RecordedClass, {values = {}, parts = {}, setters = {}, clearers = []}: Members): void {
  const define = (name: string, descriptor: PropertyDescriptor): void =>
    void Object.defineProperty(of.prototype, name, {...descriptor, configurable: true});
  for (const [name, usual] of Object.entries(values)) {
    define(name, {
      get(this: Recorded) {
        return this.store.get(this.below(name)) ?? usual;
      },
      set(this: Recorded, given: unknown) {
        this.store.set(this.below(name), given);
      },
    });
  }
  for (const [name, part] of Object.entries(parts)) {
    define(name, {
      get(this: Recorded) {
        return new part(this.surrounding, this.store, this.below(name));
      },
    });
  }
  for (const [name, property] of Object.entries(setters)) {
    define(name, {
      value(this: Recorded, given: unknown) {
        this.store.set(this.below(property), given);
        return null;
      },
    });
  }
  for (const name of clearers) {
    define(name, {
      value(this: Recorded) {
        this.store.clear(this.path);
        return null;
      },
    });
  }
}

/** A class of recorded parts with these members. */
export function recordedClass(officeType: string, members: Members): RecordedClass {
  const made = class extends Recorded {
    readonly officeType = officeType;
  };
  record(made, members);
  return made;
}

/** A store over a record that is replaced as a whole whenever something is set. */
export const storeOver = (
  read: () => Readonly<Record<string, unknown>>,
  write: (set: Readonly<Record<string, unknown>>) => void,
): Store => ({
  get: (path) => read()[path],
  set: (path, value) => write({...read(), [path]: value}),
  clear: (path) =>
    write(Object.fromEntries(Object.entries(read()).filter(([key]) => key !== path && !key.startsWith(`${path}.`)))),
});

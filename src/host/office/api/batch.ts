/** Running a batch of requests of office.js. */
import {StructureProblem} from '../structure';
import {
  callMethod,
  Collection,
  memberOf,
  OfficeObject,
  readProperty,
  scalarNames,
  writeProperty,
  type Surrounding,
} from './officeObject';
import {noSuchMember, OfficeProblem} from './problem';
import {Service, Workbook} from './workbook';
import {NoSheetProblem} from '../../book/noSheet';

export interface Batch {
  readonly Actions?: readonly Action[];
  readonly ObjectPaths?: Readonly<Record<string, ObjectPath>>;
}

interface Action {
  readonly Id: number;
  readonly ActionType: number;
  readonly Name: string;
  readonly ObjectPathId: number;
  readonly ArgumentInfo?: ArgumentInfo;
  readonly QueryInfo?: QueryInfo;
}

interface ObjectPath {
  readonly ObjectPathType: number;
  readonly Name: string;
  readonly ParentObjectPathId?: number;
  readonly ArgumentInfo?: ArgumentInfo;
}

interface ArgumentInfo {
  readonly Arguments?: readonly unknown[];
  readonly ReferencedObjectPathIds?: readonly (number | null | readonly unknown[])[];
}

interface QueryInfo {
  readonly Select?: readonly string[];
  readonly Expand?: readonly string[];
  readonly Top?: number;
  readonly Skip?: number;
}

export interface BatchAnswer {
  readonly Results: {readonly ActionId: number; readonly Value: unknown}[];
  /** Traces that were reached; only then does office.js do what it has put off until there, such as following events. */
  readonly TraceIds?: readonly number[];
  readonly Error?: {
    readonly ActionIndex: number;
    readonly Code: string;
    readonly Message: string;
    readonly HttpStatusCode: number;
    readonly Location: string;
  };
}

const ACTION = {instantiate: 1, query: 2, method: 3, setProperty: 4, trace: 5, ensureUnchanged: 8} as const;
const PATH = {global: 1, newObject: 2, method: 3, property: 4, indexer: 5, reference: 6, nullObject: 7} as const;

/** Properties that say what formulas give, or where what they give ends. */
const RESULTS = /^(?:formulas|value|text|hasSpill|numberFormatCategories)/;

/** Whether any of the names to be read depends on what formulas give; without names, everything is read. */
const asksForResults = (names: Tree): boolean =>
  Object.keys(names).length === 0 ||
  Object.entries(names).some(
    ([name, below]) => RESULTS.test(name) || (Object.keys(below).length > 0 && asksForResults(below)),
  );

/** Methods whose answer depends on what formulas give. */
const OF_RESULTS = /^(?:GetSpill|GetUsedRange|GetSurroundingRegion|GetExtendedRange|GetRangeEdge|Find)/;

export class BatchRun {
  readonly #objects = new Map<number, OfficeObject | null>();

  constructor(
    private readonly batch: Batch,
    private readonly surrounding: Surrounding,
  ) {}

  /** Runs the actions in their order; the first that fails ends the batch, and what was done before stays. */
  async run(): Promise<BatchAnswer> {
    const results: {ActionId: number; Value: unknown}[] = [];
    const traced: number[] = [];
    const actions = this.batch.Actions ?? [];
    for (const [index, action] of actions.entries()) {
      try {
        if (this.#needsResults(action)) await this.surrounding.book.settle();
        results.push({ActionId: action.Id, Value: (await this.#act(action)) ?? null});
        if (action.ActionType === ACTION.trace) traced.push(action.Id);
      } catch (error) {
        return {Results: results, TraceIds: traced, Error: this.#failure(error, index, action)};
      }
    }
    return {Results: results, TraceIds: traced};
  }

  #failure(error: unknown, index: number, action: Action): NonNullable<BatchAnswer['Error']> {
    const path = this.batch.ObjectPaths?.[action.ObjectPathId];
    const code =
      error instanceof OfficeProblem
        ? error.code
        : error instanceof StructureProblem
          ? 'InsertDeleteConflict'
          : // An object that the pane still holds, of a sheet that is gone.
            error instanceof NoSheetProblem
            ? 'ItemNotFound'
            : 'GeneralException';
    return {
      ActionIndex: index,
      Code: code,
      Message: error instanceof Error ? error.message : String(error),
      HttpStatusCode: code === 'GeneralException' ? 500 : 400,
      Location: action.Name || (path?.Name ?? ''),
    };
  }

  #needsResults({ActionType: type, Name: name, ObjectPathId: path, QueryInfo: query}: Action): boolean {
    const {isPending, calculationMode} = this.surrounding.book;
    if (!isPending || calculationMode === 'Manual') return false;
    if (type === ACTION.query) return asksForResults(tree(query));
    if (type === ACTION.method) return OF_RESULTS.test(name);
    return type === ACTION.instantiate && OF_RESULTS.test(this.batch.ObjectPaths?.[path]?.Name ?? '');
  }

  #act(action: Action): unknown {
    if (action.ActionType === ACTION.trace) return null;
    const object = this.#object(action.ObjectPathId);
    if (object === null) return null;
    switch (action.ActionType) {
      case ACTION.instantiate:
        return object.identity();
      case ACTION.query:
        return answered(object, tree(action.QueryInfo), action.QueryInfo);
      case ACTION.method: {
        const result = callMethod(object, action.Name, this.#arguments(action.ArgumentInfo));
        return result instanceof OfficeObject ? result.identity() : result;
      }
      case ACTION.setProperty:
        writeProperty(object, action.Name, this.#arguments(action.ArgumentInfo)[0]);
        return null;
      case ACTION.ensureUnchanged:
        return null;
      default:
        throw noSuchMember(`The kind ${action.ActionType} of request`);
    }
  }

  #arguments({Arguments: given = [], ReferencedObjectPathIds: referenced = []}: ArgumentInfo = {}): unknown[] {
    // An argument that was left out travels as null.
    return given.map((value, i) => this.#argument(value, referenced[i]) ?? undefined);
  }

  #argument(value: unknown, reference: unknown): unknown {
    if (typeof reference === 'number' && reference > 0) return this.#object(reference);
    if (Array.isArray(reference) && Array.isArray(value))
      return value.map((one, i) => this.#argument(one, reference[i]));
    return value;
  }

  /** Null is a null object: it was not there, and what is asked of it is not there either. */
  #object(id: number): OfficeObject | null {
    const known = this.#objects.get(id);
    if (known !== undefined) return known;
    const path = this.batch.ObjectPaths?.[id];
    if (!path) throw new OfficeProblem('InvalidObjectPath', 'The object path is not there.');
    const made = this.#made(path);
    this.#objects.set(id, made);
    return made;
  }

  #made({ObjectPathType: type, Name: name, ParentObjectPathId: above, ArgumentInfo: given}: ObjectPath) {
    switch (type) {
      case PATH.global:
        return new Workbook(this.surrounding);
      case PATH.newObject:
        return new Service(this.surrounding);
      case PATH.nullObject:
        return null;
      case PATH.reference: {
        const kept = this.surrounding.kept(name);
        if (!kept)
          throw new OfficeProblem('InvalidReference', 'This reference is not valid for the current operation.');
        return kept;
      }
    }
    const parent = this.#object(above!);
    if (parent === null) return null;
    const object =
      type === PATH.property
        ? readProperty(parent, name)
        : type === PATH.indexer
          ? callMethod(parent, 'GetItem', this.#arguments(given))
          : callMethod(parent, name, this.#arguments(given));
    if (object !== null && !(object instanceof OfficeObject))
      throw noSuchMember(`${parent.officeType}.${name} as an object`);
    return object;
  }
}

/** Names to be read, and under each what is to be read of that. */
interface Tree {
  [name: string]: Tree;
}

function tree({Select: select = [], Expand: expand = []}: QueryInfo = {}): Tree {
  const root: Tree = {};
  for (const path of [...select, ...expand].flatMap((list) => list.split(','))) {
    let at = root;
    for (const name of path.split('/').map((part) => part.trim())) {
      if (name === '' || name === '$all' || name === '*') continue;
      at = at[name.charAt(0).toLowerCase() + name.slice(1)] ??= {};
    }
  }
  return root;
}

function answered(object: OfficeObject | null, names: Tree, page: QueryInfo = {}): unknown {
  if (object === null) return null;
  if (object instanceof Collection) return collectionAnswer(object, names, page);
  return {...object.identity(), ...properties(object, names)};
}

function collectionAnswer(
  collection: Collection<OfficeObject>,
  {items, ...others}: Tree,
  {Top: top, Skip: skip = 0}: QueryInfo,
): unknown {
  const own: Tree = {};
  const ofItems: Tree = {...items};
  for (const [name, below] of Object.entries(others)) {
    if (memberOf(Object.getPrototypeOf(collection) as object, name)?.get) own[name] = below;
    else ofItems[name] = below;
  }
  const asked = collection.listed().slice(skip, top === undefined ? undefined : skip + top);
  return {
    ...collection.identity(),
    ...(Object.keys(own).length === 0 ? {} : properties(collection, own)),
    _Items: asked.map((item) => answered(item, ofItems)),
  };
}

function properties(object: OfficeObject, names: Tree): Record<string, unknown> {
  const asked = Object.keys(names);
  if (asked.length === 0) return scalars(object);
  const answer: Record<string, unknown> = {};
  for (const name of asked) {
    const wire = wireName(name);
    const value = readProperty(object, wire);
    answer[wire] = value instanceof OfficeObject ? answered(value, names[name]) : value;
  }
  return answer;
}

/** Everything that is a value; parts that are not there, such as the sheet of a name of the workbook, do not matter. */
function scalars(object: OfficeObject): Record<string, unknown> {
  const answer: Record<string, unknown> = {};
  for (const name of scalarNames(object)) {
    try {
      const value = readProperty(object, wireName(name));
      if (!(value instanceof OfficeObject)) answer[wireName(name)] = value;
    } catch (error) {
      if (!(error instanceof OfficeProblem) || error.code !== 'ItemNotFound') throw error;
    }
  }
  return answer;
}

const wireName = (name: string): string => name.charAt(0).toUpperCase() + name.slice(1);

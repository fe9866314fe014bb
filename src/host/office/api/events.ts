/** Events of the workbook in the words of office.js: their numbers, whom they concern, and what they tell. */
import {meet} from '../../book/addresses';
import {shortAddress} from '../areas';
import type {BookEvent} from '../changes';
import type {HostBook} from '../hostBook';
import type {EventName, OfficeObject, Surrounding} from './officeObject';
import {Range} from './range';

export {WORKBOOK_TARGET} from './following';

export const TYPES: Readonly<Record<EventName, number>> = {
  changed: 10,
  activated: 11,
  deactivated: 12,
  added: 13,
  selectionChanged: 14,
  deleted: 15,
  calculated: 16,
  formatChanged: 18,
  nameChanged: 25,
  tableSelectionChanged: 100,
  tableChanged: 101,
  tableAdded: 102,
  tableDeleted: 103,
};

interface Target {
  readonly name: EventName;
  /** The id of a sheet or table. */
  readonly target: string;
}

/** As which events a change of the workbook is told, and of what. */
export function targetsOf(event: BookEvent, book: HostBook): Target[] {
  switch (event.kind) {
    case 'contents':
      return [
        {name: 'changed', target: event.sheetId},
        ...book.tables
          .filter(({sheetId, area}) => sheetId === event.sheetId && meet(area, event.area))
          .map(({id}): Target => ({name: 'tableChanged', target: id})),
      ];
    case 'moved':
      return [];
    case 'selection':
      return [{name: 'selectionChanged', target: event.sheetId}];
    case 'format':
      return [{name: 'formatChanged', target: event.sheetId}];
    case 'renamed':
      return [{name: 'nameChanged', target: event.sheetId}];
    case 'calculated':
      return book.sheets.map(({id}) => ({name: 'calculated', target: id}));
    case 'tableAdded':
    case 'tableDeleted':
      return [{name: event.kind, target: event.tableId}];
    default:
      return [{name: event.kind, target: event.sheetId}];
  }
}

/** What office.js makes the arguments of the handlers of. */
export function messageOf(
  event: BookEvent,
  {name, target}: Target,
  keep: (object: OfficeObject) => string,
  surrounding: Surrounding,
): object {
  const source = 'Local';
  switch (event.kind) {
    case 'contents': {
      const {sheetId: worksheetId, area, changeType, shift} = event;
      const range = new Range(surrounding, worksheetId, area);
      return {
        worksheetId,
        ...(name === 'tableChanged' ? {tableId: target} : {}),
        address: shortAddress(area),
        changeType,
        source,
        triggerSource: 'Unknown',
        shiftDirection: SHIFTS[shift ?? 'None'],
        referenceId: keep(range),
      };
    }
    case 'selection':
      return {worksheetId: event.sheetId, address: event.areas.map(shortAddress).join(',')};
    case 'format':
      return {worksheetId: event.sheetId, address: shortAddress(event.area), source};
    case 'renamed':
      return {worksheetId: event.sheetId, nameBefore: event.before, nameAfter: event.after, source};
    case 'calculated':
      return {worksheetId: target, address: ''};
    case 'tableAdded':
    case 'tableDeleted':
      return {tableId: event.tableId, tableName: event.name, worksheetId: event.sheetId, source};
    default:
      return {worksheetId: event.sheetId, source};
  }
}

const SHIFTS = {
  None: 'None',
  Left: 'ShiftCellLeft',
  Up: 'ShiftCellUp',
  Right: 'ShiftCellRight',
  Down: 'ShiftCellDown',
} as const;

/** The methods by which office.js registers for events: "_Register…Event" and "_Unregister…Event" of an object. */
import type {EventName, OfficeObject} from './officeObject';

/** Target of events of the whole workbook. */
export const WORKBOOK_TARGET = 'Workbook';

/** Gives a class these methods. Its objects are listened to by their ids, collections as the whole workbook. */
export function withEvents(prototype: OfficeObject, events: Readonly<Record<string, EventName>>): void {
  for (const [wire, event] of Object.entries(events)) {
    for (const follow of [true, false]) {
      const verb = follow ? '_Register' : '_Unregister';
      const value = function (this: OfficeObject): null {
        const {Id: id} = this.identity();
        return this.surrounding.follow(event, typeof id === 'string' ? id : WORKBOOK_TARGET, follow);
      };
      // office.js writes the word in either place.
      for (const name of [`${verb}${wire}Event`, `${verb}Event${wire}`]) {
        Object.defineProperty(prototype, name, {value, configurable: true});
      }
    }
  }
}

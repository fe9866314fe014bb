/** @jest-environment ./tests/host/support/environment.cjs */
import {book, dynamic, plain} from '../support/books';
import {closePanes, openPane} from './support/panes';

afterEach(closePanes);

const three = book({One: {A1: 1}, Two: {A1: plain('One!A1+1')}, 'Three 3': {A1: plain('SUM(One!A1,Two!A1)')}});

describe('sheets', () => {
  test('are listed with what was asked for, and found by name and id', async () => {
    const {run} = await openPane(three);
    await run(async (context) => {
      const {worksheets} = context.workbook;
      worksheets.load('items/name,items/position,items/visibility');
      const active = worksheets.getActiveWorksheet();
      active.load('id,name');
      const [first, last, count] = [worksheets.getFirst(), worksheets.getLast(), worksheets.getCount()];
      first.load('name');
      last.load('name');
      const next = first.getNext();
      next.load('name');
      const none = last.getNextOrNullObject();
      none.load('name');
      await context.sync();
      expect(worksheets.items.map(({name, position, visibility}) => [name, position, visibility])).toEqual([
        ['One', 0, 'Visible'],
        ['Two', 1, 'Visible'],
        ['Three 3', 2, 'Visible'],
      ]);
      expect([active.name, first.name, last.name, next.name, count.value]).toEqual(['One', 'One', 'Three 3', 'Two', 3]);
      expect(none.isNullObject).toBe(true);
      const [byId, byName] = [worksheets.getItem(active.id), worksheets.getItemOrNullObject('three 3')];
      byId.load('name');
      byName.load('name');
      worksheets.items[1].getRange('A1').load('values');
      await context.sync();
      expect([byId.name, byName.name]).toEqual(['One', 'Three 3']);
    });
  });

  test('one can be added, moved, renamed, hidden and deleted; formulas follow its name', async () => {
    const {run, book: model} = await openPane(three);
    await run(async (context) => {
      const {worksheets} = context.workbook;
      const added = worksheets.add('New');
      added.getRange('A1').values = [[41]];
      added.getRange('B1').formulas = [['=One!A1+A1']];
      added.position = 0;
      worksheets.getItem('One').name = "Tom's";
      added.tabColor = '#FF0000';
      added.showGridlines = false;
      const sum = worksheets.getItem('Three 3').getRange('A1');
      const cell = added.getRange('B1');
      sum.load('formulas,values');
      cell.load('formulas,values');
      added.load('position,tabColor,showGridlines');
      await context.sync();
      expect([added.position, added.tabColor, added.showGridlines]).toEqual([0, '#FF0000', false]);
      expect(sum.formulas).toEqual([["=SUM('Tom''s'!A1,Two!A1)"]]);
      expect([sum.values, cell.values, cell.formulas]).toEqual([[[3]], [[42]], [["='Tom''s'!A1+A1"]]]);
      worksheets.getItem("Tom's").visibility = 'Hidden';
      worksheets.getItem('Two').delete();
      sum.load('values');
      const active = worksheets.getActiveWorksheet();
      active.load('name');
      await context.sync();
      expect([sum.values, active.name]).toEqual([[['#REF!']], 'Three 3']);
    });
    expect(model.sheets.map(({name}) => name)).toEqual(['New', "Tom's", 'Three 3']);
  });

  test.each([
    ['taken', 'two', 'ItemAlreadyExists'],
    ['with a slash', 'a/b', 'InvalidArgument'],
    ['too long', 'x'.repeat(32), 'InvalidArgument'],
  ])('a name that is %s is refused', async (_, name, code) => {
    const {run} = await openPane(three);
    await expect(
      run(async (context) => {
        context.workbook.worksheets.add(name);
        await context.sync();
      }),
    ).rejects.toMatchObject({code});
  });

  test('the last visible sheet stays', async () => {
    const {run} = await openPane(book({Only: {}}));
    await expect(
      run(async (context) => {
        context.workbook.worksheets.getItem('Only').delete();
        await context.sync();
      }),
    ).rejects.toMatchObject({code: 'InvalidOperation'});
  });

  test('a protected one refuses changes until it is unprotected with its password', async () => {
    const {run} = await openPane(three);
    const change = (): Promise<void> =>
      run(async (context) => {
        context.workbook.worksheets.getItem('One').getRange('A1').values = [[5]];
        await context.sync();
      });
    await run(async (context) => {
      const {protection} = context.workbook.worksheets.getItem('One');
      protection.protect({allowAutoFilter: true}, 'secret');
      protection.load('protected');
      await context.sync();
      expect(protection.protected).toBe(true);
    });
    await expect(change()).rejects.toMatchObject({code: 'AccessDenied'});
    const unprotect = (password: string): Promise<void> =>
      run(async (context) => {
        context.workbook.worksheets.getItem('One').protection.unprotect(password);
        await context.sync();
      });
    await expect(unprotect('guess')).rejects.toMatchObject({code: 'AccessDenied'});
    await unprotect('secret');
    await change();
  });

  test('selecting shows the sheet and its cells', async () => {
    const {run, book: model} = await openPane(three);
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Two');
      sheet.activate();
      sheet.getRange('B2:C3').select();
      const selected = context.workbook.getSelectedRange();
      const cell = context.workbook.getActiveCell();
      selected.load('address');
      selected.worksheet.load('name');
      cell.load('address');
      await context.sync();
      expect([selected.address, selected.worksheet.name, cell.address]).toEqual(['Two!B2:C3', 'Two', 'Two!B2']);
    });
    expect(model.activeSheet).toBe('s1');
  });

  test('panes are frozen and thawed', async () => {
    const {run, book: model} = await openPane(three);
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('One');
      sheet.freezePanes.freezeAt(sheet.getRange('A1:E3'));
      await context.sync();
      expect([model.state('s0').frozenRows, model.state('s0').frozenColumns]).toEqual([3, 5]);
      sheet.freezePanes.freezeRows(1);
      await context.sync();
      expect([model.state('s0').frozenRows, model.state('s0').frozenColumns]).toEqual([1, 0]);
      sheet.freezePanes.unfreeze();
      await context.sync();
      expect(model.state('s0').frozenRows).toBe(0);
    });
  });
});

describe('names', () => {
  test('are added, used in formulas, read and deleted', async () => {
    const {run} = await openPane(book({Data: {A1: 2, A2: 3}}));
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      const {names} = context.workbook;
      names.add('Limits', sheet.getRange('A1:A2'), 'of the shop');
      names.add('Factor', '=10');
      sheet.getRange('B1').formulas = [['=SUM(Limits)*Factor']];
      const cell = sheet.getRange('B1');
      cell.load('values');
      names.load('items/name,items/type,items/value,items/formula,items/comment');
      const range = names.getItem('limits').getRange();
      const byName = sheet.getRange('Limits');
      range.load('address');
      byName.load('address');
      await context.sync();
      expect(cell.values).toEqual([[50]]);
      expect(names.items.map((item) => [item.name, item.type, item.value, item.formula, item.comment])).toEqual([
        ['Limits', 'Range', 'Data!$A$1:$A$2', '=Data!$A$1:$A$2', 'of the shop'],
        ['Factor', 'Double', 10, '=10', ''],
      ]);
      expect([range.address, byName.address]).toEqual(['Data!A1:A2', 'Data!A1:A2']);
      names.getItem('Factor').delete();
      cell.load('values');
      await context.sync();
      expect(cell.values).toEqual([['#NAME?']]);
    });
  });

  test.each([
    ['one that is taken', 'taken', 'ItemAlreadyExists'],
    ['the address of a cell', 'AB12', 'InvalidArgument'],
    ['one with a blank', 'a b', 'InvalidArgument'],
  ])('%s is refused', async (_, name, code) => {
    const {run} = await openPane(book({Data: {}}, {names: [{name: 'Taken', formula: 'Data!$A$1'}]}));
    await expect(
      run(async (context) => {
        context.workbook.names.add(name, '=1');
        await context.sync();
      }),
    ).rejects.toMatchObject({code});
  });
});

describe('inserting and deleting cells', () => {
  const content = book({
    Data: {A1: 1, A2: 2, A3: 3, B1: plain('SUM(A1:A3)'), B3: plain('A2*10'), C1: 'x', D1: dynamic('A1:A3*2')},
    Other: {A1: plain('Data!A3+Data!$A$1'), A2: plain('SUM(Data!A:A)')},
  });

  test('rows move down, and every formula follows', async () => {
    const {run, book: model} = await openPane(content);
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      sheet.getRange('A3').format.fill.color = '#ABCDEF';
      sheet.getRange('2:3').insert('Down');
      const [range, other] = [sheet.getRange('A1:D5'), context.workbook.worksheets.getItem('Other').getRange('A1:A2')];
      range.load('formulas,values');
      other.load('formulas,values');
      await context.sync();
      expect(range.formulas.map((row) => row.slice(0, 3))).toEqual([
        [1, '=SUM(A1:A5)', 'x'],
        ['', '', ''],
        ['', '', ''],
        [2, '', ''],
        [3, '=A4*10', ''],
      ]);
      expect(range.values.map((row) => row[3])).toEqual([2, 0, 0, 4, 6]);
      expect(other.formulas).toEqual([['=Data!A5+Data!$A$1'], ['=SUM(Data!A:A)']]);
      expect(other.values).toEqual([[4], [6]]);
    });
    expect([model.look('s0', 2, 0).fill, model.look('s0', 4, 0).fill]).toEqual([undefined, '#ABCDEF']);
  });

  test('what refers to deleted cells alone has lost its reference', async () => {
    const {run} = await openPane(content);
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      sheet.getRange('2:2').delete('Up');
      const range = sheet.getRange('A1:C2');
      range.load('formulas');
      await context.sync();
      expect(range.formulas).toEqual([
        [1, '=SUM(A1:A2)', 'x'],
        [3, '=#REF!*10', ''],
      ]);
    });
  });

  test('cells of one column move alone, to either side', async () => {
    const {run} = await openPane(book({Data: {A1: 'a', B1: 'b', A2: 'c', B2: 'd', A3: 'e'}}));
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      sheet.getRange('A2').insert('Right');
      sheet.getRange('A1').delete('Up');
      const range = sheet.getRange('A1:C3');
      range.load('values');
      await context.sync();
      expect(range.values).toEqual([
        ['', 'b', ''],
        ['e', 'c', 'd'],
        ['', '', ''],
      ]);
    });
  });

  test('a table is not torn apart', async () => {
    const table = {
      name: 'T',
      sheet: 'Data',
      area: {top: 0, left: 0, bottom: 2, right: 1},
      header: true,
      totals: false,
      columns: ['A', 'B'],
    };
    const {run} = await openPane(book({Data: {A1: 'A', B1: 'B', A2: 1, A3: 2}}, {tables: [table]}));
    await expect(
      run(async (context) => {
        context.workbook.worksheets.getItem('Data').getRange('A2').insert('Down');
        await context.sync();
      }),
    ).rejects.toMatchObject({code: 'InsertDeleteConflict'});
  });
});

/** @jest-environment ./tests/host/support/environment.cjs */
import {oneCell, parseCell} from '../../../src/host/book/addresses';
import {Connection} from '../../../src/host/office/api/connection';
import {renameSheet} from '../../../src/host/office/structure';
import {enter} from '../../../src/host/office/writing';
import type {Step} from '../../../src/host/office/steps';
import {book, dynamic, plain} from '../support/books';
import {closePanes, nextTurn, openPane} from './support/panes';

afterEach(closePanes);

const data = book({Data: {A1: 1, B1: plain('A1*2')}, Other: {}});

describe('failures', () => {
  test('what was done before stays, and the place of the failure is told', async () => {
    const {run, office} = await openPane(data);
    await expect(
      run(async (context) => {
        const sheet = context.workbook.worksheets.getItem('Data');
        sheet.getRange('A1').values = [[7]];
        sheet.getRange('A2').values = [[1, 2]];
        sheet.getRange('A3').values = [[9]];
        await context.sync();
      }),
    ).rejects.toMatchObject({code: 'InvalidArgument'});
    const {request, answer} = office.exchanges[0];
    const {Actions: actions} = JSON.parse(request) as {Actions: {ActionType: number}[]};
    const {Error: failure} = JSON.parse(answer) as {Error: {ActionIndex: number}};
    const writes = actions.flatMap(({ActionType: type}, i) => (type === 4 ? [i] : []));
    expect(failure.ActionIndex).toBe(writes[1]);
    await run(async (context) => {
      const range = context.workbook.worksheets.getItem('Data').getRange('A1:B3');
      range.load('values');
      await context.sync();
      expect(range.values).toEqual([
        [7, 14],
        ['', ''],
        ['', ''],
      ]);
    });
  });

  test('a member that the host does not have answers with its name', async () => {
    const {run} = await openPane(data);
    await expect(
      run(async (context) => {
        context.workbook.worksheets.getItem('Data').shapes.load('items/name');
        await context.sync();
      }),
    ).rejects.toMatchObject({code: 'ApiNotFound', message: expect.stringContaining('Worksheet.shapes') as string});
    await expect(
      run(async (context) => {
        const chart = context.workbook.worksheets.getItem('Data').getRange('A1').getImage();
        await context.sync();
        return chart.value;
      }),
    ).rejects.toMatchObject({code: 'ApiNotFound', message: expect.stringContaining('Range.getImage') as string});
  });

  test('what is no member of the API cannot be reached', async () => {
    const {book: model} = await openPane(data);
    const connection = new Connection(model, () => undefined);
    for (const name of ['Constructor', '__proto__', 'Surrounding', 'ToString', 'HasOwnProperty']) {
      const batch = {
        Actions: [{Id: 1, ActionType: 3, Name: name, ObjectPathId: 1, ArgumentInfo: {}}],
        ObjectPaths: {1: {Id: 1, ObjectPathType: 1, Name: ''}},
      };
      const answer = JSON.parse(await connection.run(JSON.stringify(batch))) as {Error?: {Code: string}};
      expect(answer.Error?.Code).toBe('ApiNotFound');
    }
    connection.close();
  });

  test('while a cell is being edited everything is refused', async () => {
    const {run, book: model} = await openPane(data);
    const read = (): Promise<unknown> =>
      run(async (context) => {
        const range = context.workbook.getSelectedRange();
        range.load('address');
        await context.sync();
        return range.address;
      });
    model.isEditing = true;
    await expect(read()).rejects.toMatchObject({code: 'InvalidOperationInCellEditMode'});
    model.isEditing = false;
    expect(await read()).toBe('Data!A1');
  });
});

describe('ranges that a pane keeps hold of', () => {
  test('move with their cells, and are gone with them', async () => {
    const {run} = await openPane(data);
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      const [cell, above] = [sheet.getRange('A1:B1'), sheet.getRange('B1')];
      cell.load('address');
      await context.sync();
      const added = sheet.getRange('1:2').insert('Down');
      for (const range of [cell, above, added]) range.load('address,formulas');
      await context.sync();
      expect([cell.address, above.address, added.address]).toEqual(['Data!A3:B3', 'Data!B3', 'Data!1:2']);
      expect(above.formulas).toEqual([['=A3*2']]);
      sheet.getRange('A3').delete('Left');
      cell.load('address');
      await context.sync();
      expect(cell.address).toBe('Data!A3');
      sheet.getRange('A3').delete('Up');
      await context.sync();
      cell.load('address');
      await expect(context.sync()).rejects.toMatchObject({code: 'ItemNotFound'});
    });
  });
});

describe('null objects', () => {
  test('carry through everything asked of them', async () => {
    const {run} = await openPane(data);
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItemOrNullObject('Nope');
      const table = context.workbook.tables.getItemOrNullObject('Nope');
      const [range, column] = [sheet.getRange('A1'), table.columns.getItem('x').getDataBodyRange()];
      sheet.load('name');
      range.load('values');
      column.load('values');
      await context.sync();
      expect([sheet, table, range, column].map(({isNullObject}) => isNullObject)).toEqual([true, true, true, true]);
    });
  });
});

describe('undoing', () => {
  test('a batch is one step, there and back', async () => {
    const {run, book: model} = await openPane(data);
    const steps: Step[] = [];
    model.observe((change) => change.kind === 'step' && steps.push(change.step));
    const shown = (): unknown => [
      model.sheets.map(({id, name, values}) => [id, name, [...values].sort(([a], [b]) => a - b)]),
      model.tables,
      model.names,
      model.sheets.map(({id}) => [model.state(id), [...model.looks(id)]]),
    ];
    const before = shown();
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      sheet.getRange('A1:A2').values = [[5], ['=SEQUENCE(1,3)']];
      sheet.getRange('A1').format.fill.color = '#FF0000';
      sheet.getRange('C:C').format.columnWidth = 100;
      const added = context.workbook.worksheets.add('Added');
      added.getRange('A1:B2').values = [
        ['a', 'b'],
        [1, '=Data!A1'],
      ];
      added.tables.add('A1:B2', true).name = 'T';
      context.workbook.names.add('N', '=T[a]');
      context.workbook.worksheets.getItem('Data').name = 'Facts';
      sheet.getRange('1:1').insert('Down');
      sheet.charts.add('Line', sheet.getRange('A1:B3'));
      sheet.pageLayout.orientation = 'Landscape';
      await context.sync();
    });
    const after = shown();
    expect(steps).toHaveLength(1);
    steps[0].undo();
    await model.settle();
    expect(shown()).toEqual(before);
    steps[0].redo();
    await model.settle();
    expect(shown()).toEqual(after);
  });

  test('panes are told when something is undone', async () => {
    const {run, book: model} = await openPane(data);
    const steps: Step[] = [];
    model.observe((change) => change.kind === 'step' && steps.push(change.step));
    const heard: string[] = [];
    await run(async (context) => {
      context.workbook.worksheets.onChanged.add(async ({address}) => void heard.push(address));
      await context.sync();
    });
    enter(model, 's0', [
      {...parseCell('A1')!, value: 3},
      {...parseCell('C2')!, value: 3},
    ]);
    steps[0].undo();
    await nextTurn();
    expect(heard).toEqual(['A1:C2', 'A1:C2']);
  });

  test('reading is no step', async () => {
    const {run, book: model} = await openPane(data);
    const steps: Step[] = [];
    model.observe((change) => change.kind === 'step' && steps.push(change.step));
    await run(async (context) => {
      context.workbook.worksheets.load('items/name');
      context.workbook.worksheets.getItem('Other').getRange('B2').select();
      await context.sync();
    });
    expect(steps).toEqual([]);
  });
});

describe('events', () => {
  test('changes and selections reach the handlers, until these are removed', async () => {
    const {run, book: model} = await openPane(data);
    const heard: string[] = [];
    const handlers = await run(async (context) => {
      const {worksheets} = context.workbook;
      const sheet = worksheets.getItem('Data');
      const made = [
        worksheets.onChanged.add(async ({worksheetId, address, changeType, source}) => {
          heard.push(`changed ${worksheetId} ${address} ${changeType} ${source}`);
        }),
        worksheets.onSelectionChanged.add(async ({address}) => void heard.push(`selected ${address}`)),
        worksheets.onActivated.add(async ({worksheetId}) => void heard.push(`activated ${worksheetId}`)),
        worksheets.onAdded.add(async ({worksheetId}) => void heard.push(`added ${worksheetId}`)),
        worksheets.onDeleted.add(async ({worksheetId}) => void heard.push(`deleted ${worksheetId}`)),
        sheet.onChanged.add(async ({address}) => void heard.push(`Data changed ${address}`)),
      ];
      await context.sync();
      return made;
    });
    enter(model, 's0', [{...parseCell('A1')!, value: 3}]);
    enter(model, 's1', [{...parseCell('B2')!, value: 3}]);
    model.select('s0', [oneCell(4, 4)]);
    model.activate('s1');
    await nextTurn();
    expect(heard.splice(0)).toEqual([
      'Data changed A1',
      'changed s0 A1 RangeEdited Local',
      'changed s1 B2 RangeEdited Local',
      'selected E5',
      'activated s1',
      'selected A1',
    ]);
    await run(async (context) => {
      const added = context.workbook.worksheets.add('New');
      added.getRange('A1:B2').values = [
        [1, 2],
        [3, 4],
      ];
      added.delete();
      await context.sync();
    });
    await nextTurn();
    expect(heard.splice(0)).toEqual(['added new1', 'changed new1 A1:B2 RangeEdited Local', 'deleted new1']);
    for (const handler of handlers) {
      handler.remove();
      await handler.context.sync();
    }
    enter(model, 's0', [{...parseCell('A1')!, value: 4}]);
    await nextTurn();
    expect(heard).toEqual([]);
  });

  test('a handler gets the changed cells as a range', async () => {
    const {run, book: model} = await openPane(data);
    const heard = new Promise<string>((resolve, reject) => {
      void run(async (context) => {
        context.workbook.worksheets.getItem('Data').onChanged.add((event) =>
          run(async (inner) => {
            const range = event.getRange(inner);
            range.load('address,values');
            await inner.sync();
            resolve(`${range.address}=${String(range.values[0][0])}`);
          }).catch(reject),
        );
        await context.sync();
      }).then(() => enter(model, 's0', [{...parseCell('C4')!, value: 12}]));
    });
    expect(await heard).toBe('Data!C4=12');
  });

  test('each pane hears what it asked for itself', async () => {
    const {book: model} = await openPane(data);
    const told: string[] = [];
    const [one, other] = ['one', 'other'].map((name) => new Connection(model, (type) => told.push(`${name} ${type}`)));
    const register = {
      Actions: [{Id: 1, ActionType: 3, Name: '_RegisterDataChangedEvent', ObjectPathId: 2, ArgumentInfo: {}}],
      ObjectPaths: {
        1: {Id: 1, ObjectPathType: 1, Name: ''},
        2: {Id: 2, ObjectPathType: 4, Name: 'Worksheets', ParentObjectPathId: 1},
      },
    };
    await one.run(JSON.stringify(register));
    enter(model, 's0', [{...parseCell('A1')!, value: 4}]);
    one.close();
    enter(model, 's0', [{...parseCell('A1')!, value: 5}]);
    other.close();
    expect(told).toEqual(['one 10']);
  });
});

test('with manual calculation results stay as they are until they are asked for', async () => {
  const {run} = await openPane(data);
  const values = await run(async (context) => {
    context.application.calculationMode = 'Manual';
    const sheet = context.workbook.worksheets.getItem('Data');
    sheet.getRange('A1').values = [[50]];
    const cell = sheet.getRange('B1');
    cell.load('values');
    await context.sync();
    const before = cell.values[0][0] as number;
    context.application.calculate('Full');
    cell.load('values');
    await context.sync();
    return [before, cell.values[0][0] as number];
  });
  expect(values).toEqual([2, 100]);
});

test('a sheet renamed in the grid takes its formulas along', async () => {
  const {book: model} = await openPane(book({Data: {A1: 1}, Sum: {A1: dynamic("Data!A1+'data'!A1")}}));
  renameSheet(model, 's0', 'New name');
  await model.settle();
  expect([model.formula('s1', 0, 0), model.value('s1', 0, 0)]).toEqual(["='New name'!A1+'New name'!A1", 2]);
});

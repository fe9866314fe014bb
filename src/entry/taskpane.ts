/**
 * The task pane's page. Worksheet functions are associated by the script before this one; the pane itself, with its
 * controls and charts, is fetched only then, so that a workbook that opens calculates without waiting for it.
 */
import {requestView, type Requested} from '../pane/app/viewRequests';

/** A command of the ribbon shows the pane with a view; Excel waits until it is told that the command is done. */
const opens =
  (view: Requested) =>
  (event: Office.AddinCommands.Event): void => {
    requestView(view);
    Office.addin.showAsTaskpane().then(
      () => event.completed(),
      () => event.completed(),
    );
  };

void Office.onReady(async () => {
  // By the names that the manifest gives the commands.
  Office.actions.associate('fillColumns', opens('Columns'));
  Office.actions.associate('traceFigure', opens('Trace'));
  const {showPane} = await import(/* webpackChunkName: "pane" */ '../pane/show');
  showPane(document.getElementById('pane')!);
});

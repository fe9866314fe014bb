/**
 * The task pane's page. Worksheet functions are associated by the script before this one; the pane itself, with its
 * controls and charts, is fetched only then, so that a workbook that opens calculates without waiting for it.
 */
void Office.onReady(async () => {
  const {showPane} = await import(/* webpackChunkName: "pane" */ '../pane/show');
  showPane(document.getElementById('pane')!);
});

/** The reference page as HTML, for the help links of the functions. */
import {marked} from 'marked';
import {NAMESPACE} from '../../functions/catalogue';
import {referencePage} from '../docs/reference';

const STYLE = `
body{font:16px/1.5 system-ui,sans-serif;max-width:60rem;margin:0 auto;padding:1rem;color:#222;background:#fff}
@media (prefers-color-scheme:dark){body{color:#ddd;background:#1b1b1b}th,td{border-color:#555!important}}
table{border-collapse:collapse;display:block;overflow-x:auto}th,td{border:1px solid #ccc;padding:.2rem .5rem;text-align:left;vertical-align:top}
code{font-size:.9em;overflow-wrap:anywhere}h3{margin-top:2.5rem}`;

/** Every function's heading gets its name as an anchor. */
export function referenceHtml(): string {
  const body = marked
    .parse(referencePage(), {async: false})
    .replace(
      new RegExp(`<h3>${NAMESPACE}\\.(\\w+)</h3>`, 'g'),
      (_, name: string) => `<h3 id="${name.toLowerCase()}">${NAMESPACE}.${name}</h3>`,
    );
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>Wheel Ledger: the worksheet functions</title><style>${STYLE}</style></head>
<body><main>${body}</main></body></html>
`;
}

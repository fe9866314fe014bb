/** What `npm run excel` says. */
import type {ExcelFound} from './find';

export const HELP = `Tries the add-in in Excel.

  npm run excel       builds, serves dist/ on https://localhost:3000 and opens desktop Excel with the add-in (Windows, macOS)
  npm run excel:web   says how to load the add-in into Excel on the web

The first run asks to trust a certificate made for this machine alone: Excel loads add-ins over https only. Nothing else
in this repository asks for one. End it with Ctrl+C; that also takes the add-in out of Excel again.
`;

/** Why Excel cannot be opened here, and what to do instead. */
export function withoutExcel({platform}: ExcelFound): string {
  const where =
    platform === 'win32' || platform === 'darwin'
      ? 'No desktop Excel was found on this machine.'
      : `Desktop Excel runs on Windows and macOS; this machine runs ${platform}.`;
  return `${where}
What you can do here:
  npm run excel:web   load the add-in into Excel on the web, in a browser
  npm start           try it without Excel, in a local workbook host`;
}

export const webWords = (url: string): string => `Excel on the web loads an add-in from a manifest that you hand it:

1. npm run excel:web serves dist/ on ${url} while it runs. Open ${url}/taskpane.html once in
   the same browser; when it warns, the certificate is not trusted yet: run the command where a person can confirm it.
2. Open a workbook in Excel on the web. On the Home tab choose Add-ins, then More Add-ins, My Add-ins, Upload My Add-in.
3. Choose dist/manifest.xml of this folder.
4. Type =WHEELDEV. in a cell: the development build has a namespace of its own, beside a released WHEEL.

An administrator may have switched uploading off; then ask for the add-in to be deployed for you (README).
We have never seen this run in real Excel: these steps follow Excel's documentation. Write down what happens in
DEVELOPERS.md, "When you first have a real Excel".`;

/** Whether there is a desktop Excel on this machine. */
import {spawnSync} from 'node:child_process';
import {existsSync} from 'node:fs';

export interface ExcelFound {
  readonly platform: NodeJS.Platform;
  readonly found: boolean;
}

/** How the machine is asked; replaced in tests. */
export interface Machine {
  readonly platform: NodeJS.Platform;
  readonly exists: (file: string) => boolean;
  /** Whether the command ends well. */
  readonly succeeds: (command: string, args: readonly string[]) => boolean;
}

const THIS_MACHINE: Machine = {
  platform: process.platform,
  exists: existsSync,
  succeeds: (command, args) => spawnSync(command, args, {stdio: 'ignore'}).status === 0,
};

const REGISTERED = String.raw`SOFTWARE\Microsoft\Windows\CurrentVersion\App Paths\excel.exe`;

export function findExcel({platform, exists, succeeds}: Machine = THIS_MACHINE): ExcelFound {
  if (platform === 'darwin') return {platform, found: exists('/Applications/Microsoft Excel.app')};
  if (platform !== 'win32') return {platform, found: false};
  const roots = ['HKLM', 'HKCU'];
  return {platform, found: roots.some((root) => succeeds('reg', ['query', `${root}\\${REGISTERED}`]))};
}

import {webDarkTheme, webLightTheme, type Theme} from '@fluentui/react-components';
import {useEffect, useState} from 'react';

/** Lightness of a color such as "#1f1f1f", 0 to 1. */
function lightness(color: string): number {
  const digits = /^#?([0-9a-f]{6})/i.exec(color)?.[1];
  if (digits === undefined) return 1;
  const [r, g, b] = [0, 2, 4].map((i) => parseInt(digits.slice(i, i + 2), 16) / 255);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

const DARK = '(prefers-color-scheme: dark)';

function isDark(): boolean {
  const theme = Office.context?.officeTheme as {bodyBackgroundColor?: string; isDarkTheme?: boolean} | undefined;
  if (theme?.isDarkTheme !== undefined) return theme.isDarkTheme;
  if (theme?.bodyBackgroundColor !== undefined) return lightness(theme.bodyBackgroundColor) < 0.5;
  return matchMedia(DARK).matches;
}

/** Light or dark as Office is, or else as the system is; follows the system's changes. */
export function useTheme(): {readonly theme: Theme; readonly dark: boolean} {
  const [dark, setDark] = useState(isDark);
  useEffect(() => {
    const query = matchMedia(DARK);
    const update = (): void => setDark(isDark());
    query.addEventListener('change', update);
    return () => query.removeEventListener('change', update);
  }, []);
  return {theme: dark ? webDarkTheme : webLightTheme, dark};
}

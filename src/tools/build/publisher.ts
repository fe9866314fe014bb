/** Addresses of whoever serves the add-in to others. */

export interface Publisher {
  /** Where people ask for help; Excel shows it with the add-in. */
  readonly support: string;
  /** What becomes of people's data; the pane shows it. */
  readonly privacy: string;
}

/** Placeholders, which README names: example.com belongs to nobody. */
export const PLACEHOLDERS: Publisher = {
  support: 'https://example.com/wheel-ledger/support',
  privacy: 'https://example.com/wheel-ledger/privacy',
};

/**
 * From SUPPORT_URL and PRIVACY_URL.
 * @throws Error unless these are https addresses
 */
export function publisher({SUPPORT_URL, PRIVACY_URL}: Readonly<Record<string, string | undefined>>): Publisher {
  return {
    support: SUPPORT_URL === undefined ? PLACEHOLDERS.support : httpsAddress('SUPPORT_URL', SUPPORT_URL),
    privacy: PRIVACY_URL === undefined ? PLACEHOLDERS.privacy : httpsAddress('PRIVACY_URL', PRIVACY_URL),
  };
}

/**
 * @param name the variable that it comes from
 * @throws Error unless it is an https address
 */
export function httpsAddress(name: string, text: string): string {
  const url = new URL(text);
  if (url.protocol !== 'https:') throw new Error(`${name} must begin with https://, found ${text}`);
  return url.href;
}

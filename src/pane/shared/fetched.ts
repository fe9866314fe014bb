/** Parts of the pane that are fetched when they are first needed. */

/**
 * Fetches a part, such as `fetched(() => import('…'))`. After a failure the next attempt asks for it again.
 * @throws Error in words for the person at the pane
 */
export async function fetched<T>(part: () => Promise<T>): Promise<T> {
  try {
    return await part();
  } catch {
    throw new Error('This part of the add-in could not be fetched. Look whether there is a connection, and try again.');
  }
}

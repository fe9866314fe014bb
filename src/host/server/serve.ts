/** The local server of the workbook host. */
import {createServer, type Server} from 'node:https';
import type {AddressInfo} from 'node:net';
import {hostApp, type Served} from './app';
import {certificate} from './certificate';

export interface Serving {
  /** Such as https://localhost:3000/ */
  readonly address: string;
  /** The certificate is one that the person has confirmed before. */
  readonly trusted: boolean;
  readonly close: () => Promise<void>;
}

const FIRST_PORT = 3000;
/** Ports tried, one after another. */
const PORTS = 50;

/**
 * Serves the workbook host to this machine alone, at port 3000 or the next one that is free.
 * @throws Error when no port is free
 */
export async function serve(served: Served, firstPort = FIRST_PORT): Promise<Serving> {
  const {trusted, ...keys} = await certificate();
  const server = createServer(keys, hostApp(served));
  for (let port = firstPort; port < firstPort + PORTS; port++) {
    if (!(await listening(server, port))) continue;
    const {port: taken} = server.address() as AddressInfo;
    return {
      address: `https://localhost:${taken}/`,
      trusted,
      close: () =>
        new Promise((resolve) => {
          server.close(() => resolve());
          server.closeAllConnections();
        }),
    };
  }
  throw new Error(`none of the ports ${firstPort} to ${firstPort + PORTS - 1} is free`);
}

function listening(server: Server, port: number): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const failed = (error: NodeJS.ErrnoException): void => {
      if (error.code === 'EADDRINUSE' || error.code === 'EACCES') resolve(false);
      else reject(error);
    };
    server.once('error', failed);
    server.listen(port, '127.0.0.1', () => {
      server.off('error', failed);
      resolve(true);
    });
  });
}

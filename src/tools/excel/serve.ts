/** Serves dist/ over https, as a production host would: static files and nothing else. */
import {createServer, type Server} from 'node:https';
import type {AddressInfo} from 'node:net';
import express from 'express';

export interface Certificate {
  readonly cert: string | Buffer;
  readonly key: string | Buffer;
  readonly ca?: string | Buffer;
}

/**
 * @param port 0 takes any free one
 * @throws Error with the code EADDRINUSE when the port is taken
 */
export async function serveFolder(folder: string, certificate: Certificate, port: number): Promise<Server> {
  const app = express();
  app.disable('x-powered-by');
  // Excel on the web fetches from another origin; and a build must be seen at once, not tomorrow.
  app.use((_, response, next) => {
    response.set({'Access-Control-Allow-Origin': '*', 'Cache-Control': 'no-store'});
    next();
  });
  app.use(express.static(folder));
  const server = createServer({...certificate}, app);
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, 'localhost', resolve);
  });
  return server;
}

export const portOf = (server: Server): number => (server.address() as AddressInfo).port;

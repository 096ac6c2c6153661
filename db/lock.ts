/**
 * One process at a time in an embedded database's folder, which takes no lock of its own. The lock is a socket in the folder that its
 * holder listens at: the system lets go of it when that process ends, however it ends, and it is seen from every container that has the
 * folder. Process ids would tell neither: each container counts its own.
 */
import { createHash } from 'node:crypto';
import { closeSync, mkdirSync, openSync, realpathSync, statSync, unlinkSync } from 'node:fs';
import { createConnection, createServer, type Server } from 'node:net';
import { hostname, platform } from 'node:os';
import { join } from 'node:path';

export class FolderInUse extends Error {
  override readonly name = 'FolderInUse';
}

const NAME = 'fettle.lock';
/** What a socket's address has room for, on every system, its last zero left out. */
const LONGEST_ADDRESS = 103;
/** A holder that is busy answers late; that it listens is known at once. */
const ANSWER_MS = 500;
const TRIES = 3;

/** Takes the folder, or throws `FolderInUse` with who has it. Gives what releases it. */
export async function lockFolder(folder: string): Promise<() => Promise<void>> {
  mkdirSync(folder, { recursive: true });
  const { address, forget } = addressOf(folder);
  try {
    for (let tries = 0; tries < TRIES; tries++) {
      const seen = identityOf(address);
      const server = await listen(address);
      if (server)
        return async () => {
          await new Promise((done) => server.close(done));
          forget();
        };
      const holder = await holderAt(address);
      if (holder !== undefined) throw new FolderInUse(`\`${folder}\` is in use by ${holder}; stop it, or set DATA_DIR to another folder`);
      // Nobody listens there any more. Somebody who found the same may have taken it since: only what was seen is removed.
      if (seen !== undefined && seen === identityOf(address)) unlinkSync(address);
    }
    throw new FolderInUse(`\`${folder}\` is being taken by another process`);
  } catch (error) {
    forget();
    throw error;
  }
}

/** Where the lock is, in as few bytes as a socket's address has room for, and what to let go of with it. */
function addressOf(folder: string): { address: string; forget: () => void } {
  const keep = () => {};
  const file = join(folder, NAME);
  if (platform() === 'win32')
    return { address: `\\\\.\\pipe\\fettle-${createHash('sha256').update(realpathSync(folder)).digest('hex')}`, forget: keep };
  if (Buffer.byteLength(file) <= LONGEST_ADDRESS) return { address: file, forget: keep };
  if (platform() !== 'linux') throw new Error(`\`${folder}\` is too long a path for a lock in it; set DATA_DIR to a shorter one`);
  const descriptor = openSync(folder, 'r');
  return { address: `/proc/self/fd/${descriptor}/${NAME}`, forget: () => closeSync(descriptor) };
}

/** Which file there is, apart from one that took its place; undefined for none. */
function identityOf(address: string): string | undefined {
  const found = statSync(address, { bigint: true, throwIfNoEntry: false });
  return found && `${found.ino} ${found.ctimeNs}`;
}

/** The lock, or undefined when there is one there already. */
const listen = (address: string): Promise<Server | undefined> =>
  new Promise((done, failed) => {
    const server = createServer((asker) => {
      asker.on('error', () => {});
      asker.end(`process ${process.pid} on ${hostname()}`);
    });
    server.once('error', (error: NodeJS.ErrnoException) => (error.code === 'EADDRINUSE' ? done(undefined) : failed(error)));
    server.listen({ path: address, exclusive: true }, () => done(server.unref()));
  });

/** Who listens there; undefined for nobody. Of what cannot be asked it is taken that somebody does. */
const holderAt = (address: string): Promise<string | undefined> =>
  new Promise((done) => {
    let said = '';
    const asking = createConnection(address);
    const settle = (holder: string | undefined): void => {
      asking.destroy();
      done(holder);
    };
    asking.setTimeout(ANSWER_MS, () => settle('another process'));
    asking.on('data', (text) => (said += text));
    asking.on('end', () => settle(said || 'another process'));
    asking.on('error', ({ code }: NodeJS.ErrnoException) =>
      settle(code === 'ECONNREFUSED' || code === 'ENOENT' ? undefined : `another process (${code})`),
    );
  });

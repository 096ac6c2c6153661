/** The lock on an embedded database's folder: held by a process for as long as it lives, whatever its number. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, expect, it } from 'vitest';
import { FolderInUse, lockFolder } from './lock.ts';
import { openDatabase } from './open.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const children: ChildProcess[] = [];
afterEach(() => {
  for (const child of children.splice(0)) child.kill('SIGKILL');
});

const folder = (): string => mkdtempSync(join(tmpdir(), 'fettle-lock-'));
const ended = (child: ChildProcess): Promise<unknown> => new Promise((done) => child.once('exit', done));

/** A process of its own that takes the folder and keeps it. */
async function holderOf(dir: string): Promise<ChildProcess> {
  const code = `import { lockFolder } from './db/lock.ts';
    await lockFolder(process.argv[1]);
    console.log('taken');
    setInterval(() => {}, 1000);`;
  const child = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', code, dir], { cwd: root });
  children.push(child);
  await new Promise((done, failed) => {
    child.stdout.once('data', done);
    child.once('exit', (code) => failed(new Error(`it ended with ${code}`)));
  });
  return child;
}

it('a folder is refused while it is held, with who has it, and free once it is let go', async () => {
  const dir = folder();
  const release = await lockFolder(dir);
  await expect(lockFolder(dir)).rejects.toThrow(FolderInUse);
  await expect(lockFolder(dir)).rejects.toThrow(`process ${process.pid}`);
  await release();
  expect(readdirSync(dir)).toEqual([]);
  await (await lockFolder(dir))();
});

it('the folder of a process that was killed is free at once, and that of one that is stopped is not', async () => {
  const dir = folder();
  const holder = await holderOf(dir);
  await expect(lockFolder(dir)).rejects.toThrow(`process ${holder.pid}`);
  holder.kill('SIGSTOP');
  await expect(lockFolder(dir)).rejects.toThrow(FolderInUse);
  holder.kill('SIGKILL');
  await ended(holder);
  expect(readdirSync(dir)).toHaveLength(1);
  await (await lockFolder(dir))();
});

it('what is left of a lock says nothing by its number: our own, or that of somebody who lives', async () => {
  for (const pid of [process.pid, process.ppid, 1]) {
    const dir = folder();
    writeFileSync(join(dir, 'fettle.lock'), String(pid));
    await (await lockFolder(dir))();
  }
});

it('of many who find a lock that nobody holds, one has the folder', async () => {
  for (let round = 0; round < 20; round++) {
    const dir = folder();
    writeFileSync(join(dir, 'fettle.lock'), 'left');
    const outcomes = await Promise.allSettled(Array.from({ length: 8 }, () => lockFolder(dir)));
    const held = outcomes.flatMap((outcome) => (outcome.status === 'fulfilled' ? [outcome.value] : []));
    expect(held).toHaveLength(1);
    for (const outcome of outcomes) if (outcome.status === 'rejected') expect(outcome.reason).toBeInstanceOf(FolderInUse);
    await held[0]?.();
  }
});

it('a folder whose path is longer than a socket may be called is locked too', async () => {
  const dir = join(folder(), 'x'.repeat(120));
  mkdirSync(dir);
  const release = await lockFolder(dir);
  expect(readdirSync(dir)).toEqual(['fettle.lock']);
  await expect(lockFolder(dir)).rejects.toThrow(FolderInUse);
  await release();
  expect(readdirSync(dir)).toEqual([]);
});

it('the embedded database holds it while it is open', async () => {
  const dir = folder();
  const database = await openDatabase({ dir });
  await expect(openDatabase({ dir })).rejects.toThrow(FolderInUse);
  await database.close();
  await (await lockFolder(dir))();
});

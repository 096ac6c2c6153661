/** One process at a time in an embedded database's folder, which takes no lock of its own. */
import { mkdirSync, readFileSync, unlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

export class FolderInUse extends Error {
  override readonly name = 'FolderInUse';
}

const alive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Somebody else's process is alive too.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
};

/** Takes the folder, or says who has it. The lock of a process that is gone is taken over. Gives what releases it. */
export function lockFolder(folder: string): () => void {
  mkdirSync(folder, { recursive: true });
  const file = join(folder, 'fettle.lock');
  for (let tries = 0; tries < 2; tries++) {
    try {
      writeFileSync(file, String(process.pid), { flag: 'wx' });
      return () => unlinkSync(file);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
      const holder = Number(readFileSync(file, 'utf8'));
      if (holder > 0 && alive(holder))
        throw new FolderInUse(`\`${folder}\` is in use by process ${holder}; stop it, or set DATA_DIR to another folder`);
      unlinkSync(file);
    }
  }
  throw new FolderInUse(`\`${folder}\` is being taken by another process`);
}

/** How every command is called: `--help` prints its usage, and whatever it cannot read ends it with 2. */

/** Ends of a command that judges a build. */
export const ENDS = 'ends with 0 clear, 1 conflict, 2 bad input, 3 close or unknown';

export async function runCommand(usage: string, main: (args: readonly string[]) => number | Promise<number>): Promise<void> {
  const args = process.argv.slice(2);
  if (args.includes('--help') || args.includes('-h')) console.log(usage);
  else process.exitCode = await main(args);
}

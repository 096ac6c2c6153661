/**
 * Which operations set how long a job takes at least, with as many people as it likes.
 *
 * Symbols: d duration, ES and EF earliest start and finish, LS and LF latest, slack LS - ES [one unit of time]; a lag is
 * what must pass after an operation before those behind it, such as drying.
 * Equations: ES = greatest EF + lag of those before, EF = ES + d; LF = least LS of those behind less the lag, LS = LF - d.
 * Source: J. Kelley, M. Walker, "Critical-path planning and scheduling", Proc. Eastern Joint Computer Conf. (1959)
 * 160-173 (from memory); worked examples in tests/published/planning.
 */

export interface Activity {
  readonly duration: number;
  readonly lag?: number;
  readonly before: readonly number[];
}

export interface Timed {
  readonly earliestStart: number;
  readonly earliestFinish: number;
  readonly latestStart: number;
  readonly latestFinish: number;
  readonly slack: number;
}

export interface CriticalPath {
  readonly activities: readonly Timed[];
  readonly length: number;
  /** One way through without slack. */
  readonly path: readonly number[];
}

const NO_SLACK = 1e-9;

/** `order` keeps every precedence. */
export function criticalPath(activities: readonly Activity[], order: readonly number[]): CriticalPath {
  const count = activities.length;
  const [start, finish] = [new Array<number>(count).fill(0), new Array<number>(count).fill(0)];
  const ready = (i: number): number => (finish[i] as number) + ((activities[i] as Activity).lag ?? 0);
  for (const i of order) {
    const { duration, before } = activities[i] as Activity;
    start[i] = Math.max(0, ...before.map(ready));
    finish[i] = (start[i] as number) + duration;
  }
  const length = Math.max(0, ...order.map(ready));
  const latest = order.map(() => length);
  for (const i of [...order].reverse()) {
    const { duration, before, lag = 0 } = activities[i] as Activity;
    latest[i] = Math.min(latest[i] as number, length - lag);
    for (const earlier of before)
      latest[earlier] = Math.min(
        latest[earlier] as number,
        (latest[i] as number) - duration - ((activities[earlier] as Activity).lag ?? 0),
      );
  }
  const timed = activities.map(({ duration }, i): Timed => {
    const latestStart = (latest[i] as number) - duration;
    const slack = latestStart - (start[i] as number);
    return {
      earliestStart: start[i] as number,
      earliestFinish: finish[i] as number,
      latestStart,
      latestFinish: latest[i] as number,
      slack: Math.abs(slack) < NO_SLACK * Math.max(1, length) ? 0 : slack,
    };
  });
  return { activities: timed, length, path: wayThrough(activities, timed, order, length) };
}

/** Back from the last to finish, always to the one that holds it up. */
function wayThrough(activities: readonly Activity[], timed: readonly Timed[], order: readonly number[], length: number): number[] {
  const ready = (i: number): number => (timed[i] as Timed).earliestFinish + ((activities[i] as Activity).lag ?? 0);
  const near = (a: number, b: number): boolean => Math.abs(a - b) <= NO_SLACK * Math.max(1, length);
  const path: number[] = [];
  for (let at = order.find((i) => near(ready(i), length)); at !== undefined; ) {
    path.unshift(at);
    const { earliestStart } = timed[at] as Timed;
    at = (activities[at] as Activity).before.find((earlier) => near(ready(earlier), earliestStart) && earliestStart > 0);
  }
  return path;
}

import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { assemble } from '../vehicle/assembly.ts';
import type { VehicleReading } from '../vehicle/index.ts';
import { signatureOf } from '../vehicle/world.ts';
import type { Finding, Margin } from '../workshop/index.ts';
import { marginText } from '../workshop/margin-text.ts';
import { answer, checker, demoBuild, demoCatalogue } from '../workshop/testing.ts';
import { printAnswer, readingLine } from './print-answer.ts';

const bold = answer(demoBuild('bold'));
const bare = answer(demoBuild('bare'));
/** The bold build before its planned wheels were dry-fitted, which takes longer than what its tolerances ask for. */
const unfitted = answer(withoutReading('caliper_gap'));

function withoutReading(of: string) {
  const build = demoBuild('bold');
  build.vehicle.measured = build.vehicle.measured?.filter(({ quantity }) => quantity !== of) ?? [];
  return build;
}

/** The lines between a heading and the next empty line. */
function section(text: string, heading: string): string[] {
  const lines = text.split('\n');
  const start = lines.findIndex((line) => line.startsWith(heading));
  return lines.slice(start + 1, lines.indexOf('', start));
}

describe('a margin', () => {
  const margin = (value: number, plus_minus: number, low: number | null, high: number | null): Margin => ({
    value,
    unit: 'mm',
    plus_minus,
    low,
    high,
    low_is: 'searched',
    high_is: 'searched',
    rss: null,
    drawing_at_worst: null,
  });

  it.each<[string, Margin]>([
    ['5 ± 3 mm', margin(5, 3, 2, 8)],
    ['-10.6 ± 8.8 mm', margin(-10.6, 8.8, -19.3, -1.9)],
    ['-7.2 mm (-16.2 to 0.6 mm)', margin(-7.2, 9, -16.2, 0.6)],
    ['5 mm (-0.5 to 13.1 mm)', margin(5, 8.2, -0.5, 13.1)],
    ['5 mm (no end to 9 mm)', margin(5, 4, null, 9)],
  ])('%s', (text, given) => expect(marginText(given)).toBe(text));

  it('in full has its range in any case', () => expect(marginText(margin(5, 3, 2, 8), 'in full')).toBe('5 ± 3 mm (2 to 8 mm)'));
});

describe('what is still open with the work done', () => {
  const lines = section(printAnswer(bold, 'bold'), 'With the work done')
    .join(' ')
    .split(' - ')
    .map((line) => line.replace(/\s+/g, ' ').trim());
  const open = bold.after_work.remaining;
  // What the work itself brings was told with its margin among what turns up on the way.
  const before = new Map([...bold.after_work.broken, ...bold.findings].map((finding) => [finding.id, finding]));

  it('is a line of title, subject and margin where it is as close as before', () => {
    const same = open.flatMap(({ id, verdict, says }) =>
      verdict === 'close' && before.get(id)?.says === says ? [before.get(id) as Finding] : [],
    );
    const withMargin = same.filter(({ margin }) => margin);
    expect(withMargin.length).toBeGreaterThan(5);
    for (const { title, subject, margin } of withMargin)
      expect(lines).toContain(`TOO CLOSE TO CALL: ${title} [${subject}]: margin ${marginText(margin as Margin)}`);
  });

  it('is a line with the better end it has now where the work moved it', () => {
    const moved = open.filter(({ id, verdict, says }) => verdict === 'close' && before.get(id)?.says !== says);
    expect(moved.length).toBeGreaterThan(0);
    for (const { says } of moved) {
      const better = says.slice(says.indexOf('At the better end')).replace('At', 'at');
      expect(lines.some((line) => line.startsWith('TOO CLOSE TO CALL: ') && line.endsWith(`]: ${better}`))).toBe(true);
    }
  });

  it('says of what is not known what is missing', () => {
    const [unknown] = open.filter(({ verdict }) => verdict === 'unknown');
    expect(unknown).toBeDefined();
    expect(lines.some((line) => line.startsWith('NOT KNOWN: ') && line.endsWith(unknown?.says.split('yet. ')[1] ?? '?'))).toBe(true);
  });
});

describe('what to measure next', () => {
  it('begins with all that is missing and safety hangs on, however little time the rest takes', () => {
    const gaps = unfitted.measure.filter(({ quantity }) => quantity === 'caliper_gap');
    expect(gaps.length).toBeGreaterThan(0);
    expect(unfitted.measure.slice(0, gaps.length)).toEqual(gaps);
    expect(unfitted.measure.slice(gaps.length).some(({ minutes = 0 }) => minutes < (gaps[0]?.minutes ?? 0))).toBe(true);
  });

  it('prints all of those, even beyond the few', () => {
    const many = { ...unfitted, measure: Array(12).fill(unfitted.measure[0]) };
    expect(section(printAnswer(many, 'many'), 'Measure next').filter((line) => line.includes('caliper_gap')).length).toBe(12);
  });

  it('is a few lines, and all of them when asked', () => {
    const counted = (all: boolean) =>
      section(printAnswer(bold, 'bold', { all }), 'Measure next').filter((line) => /^ {2}\d+\. /.test(line)).length;
    expect(printAnswer(bold, 'bold')).toContain(`and ${bold.measure.length - counted(false)} more: \`--all\` prints them`);
    expect(counted(true)).toBe(bold.measure.length);
  });

  it('says of each what it would settle, and what it narrows alone', () => {
    const text = printAnswer(bare, 'bare', { all: true }).replace(/\s+/g, ' ');
    const narrows = bare.measure.filter(({ would_narrow }) => would_narrow.length > 0);
    expect(narrows.length).toBeGreaterThan(5);
    const titles = new Map(bare.findings.map(({ id, title }) => [id, title]));
    for (const { would_narrow } of narrows) expect(text).toContain(titles.get(would_narrow[0] as string));
    const count = (what: RegExp): number => text.match(what)?.length ?? 0;
    expect(count(/Would narrow(?: alone)?: /g)).toBe(narrows.length);
    expect(count(/Would narrow alone: /g)).toBe(narrows.filter(({ would_settle }) => would_settle.length === 0).length);
  });

  it('comes, when all is asked for, after what was read so far and what that settled', () => {
    const lines = section(printAnswer(bold, 'bold', { all: true }), 'Read so far:')
      .join(' ')
      .split(/ +- /)
      .slice(1);
    expect(lines.length).toBe(bold.measuring.taken.length);
    expect(lines.find((line) => line.startsWith('Gap to the tyre, as it stands [Cab mount'))?.replace(/\s+/g, ' ')).toMatch(/: settled /);
    expect(printAnswer(bold, 'bold')).not.toContain('Read so far');
  });

  it('names for a tolerance nothing of the vehicle that nobody can read', () => {
    const tolerances = [...bold.measure, ...bare.measure].filter(({ why }) => why.startsWith('its tolerance'));
    expect(tolerances.length).toBeGreaterThan(10);
    for (const { quantity, how } of tolerances) expect(how.startsWith('state it') && checker.library.quantities.has(quantity)).toBe(false);
  });

  it.each(['bold', 'bare'] as const)('of the %s build shows for each a reading that is taken as it stands', (name) => {
    const { measure, values } = name === 'bold' ? bold : bare;
    const readings = measure.map((each) => {
      const value = values[each.ids[0] as string]?.value;
      const { is } = signatureOf(checker.library, each.quantity)?.type ?? {};
      const unread = is === 'truth' ? 'true' : each.quantity.endsWith('pressure') ? '300' : '120';
      return parse(readingLine(each, values).replace('…', String(value ?? unread))) as VehicleReading;
    });
    const { vehicle, ...rest } = demoBuild(name);
    const assembled = assemble({ ...rest, vehicle: { ...vehicle, measured: readings } } as never, demoCatalogue, checker.library);
    expect(readings.length).toBeGreaterThan(5);
    expect(assembled.ok ? [] : assembled.faults).toEqual([]);
  });
});

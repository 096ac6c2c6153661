/** What an answer comes to in cells. Expectations are written by hand. */
import { describe, expect, it } from 'vitest';
import type { Answer } from '../workshop/answer.ts';
import { cellNamed, cellText } from './cells.ts';
import { OURS } from './headings.ts';
import { answerCells, faultCells, furtherCells, leftAloneCells, needsOf, remarkedCells } from './row-answer.ts';

const unknown = (id: string, hazard: string) => ({
  id,
  rule: id,
  title: id,
  hazard,
  verdict: 'unknown',
  as_before: false,
  margin: null,
  says: id,
});
const answer = {
  verdict: 'unknown',
  checked: { as_before: 4 },
  findings: [unknown('ride', 'comfort'), unknown('brakes', 'safety')],
  measure: [
    { title: 'Ride height', subject: 'the vehicle', tool: 'tape measure', findings: ['ride'] },
    { title: 'Hose length', subject: 'Front hoses', tool: 'tape measure', findings: ['brakes'] },
  ],
  work: { steps: [], hours: { low: 0, likely: 1, high: 2, unit: 'h' } },
  values: {},
} as unknown as Answer;

describe('the cells of a row', () => {
  it('ask for what the controlling item needs', () => {
    expect(cellText('item', answer)).toBe('brakes');
    expect(needsOf(answer)).toBe('NEEDS: front hoses: hose length');
  });

  it('are as many as there are headings, whatever became of the row', () => {
    const remark = { row: 2, message: 'not read: Owner', help: '', remark: true as const };
    for (const cells of [
      answerCells(answer),
      remarkedCells(answerCells(answer), [remark]),
      faultCells([{ row: 2, message: 'm', help: 'h' }]),
      leftAloneCells([]),
      furtherCells('clear', 2),
    ])
      expect(cells).toHaveLength(OURS.length);
    expect(remarkedCells(answerCells(answer), [remark]).at(-1)).toBe('not read: Owner; 4 more open, as the vehicle stands already');
    expect(faultCells([{ row: 2, message: 'm', help: 'h' }])[OURS.indexOf('row fault')]).toBe('m; h');
  });

  it('have names, and those of their columns', () => {
    for (const name of OURS.filter((one) => one !== 'row fault' && one !== 'remarks')) expect(cellNamed(name), name).toBeDefined();
    expect(cellNamed('row fault')).toBeUndefined();
  });
});

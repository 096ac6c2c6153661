/** Plans over HTTP: the form of what is asked and answered, faults by name, and sheets. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { demoBuild } from '../workshop/testing.ts';
import type { App } from './app.ts';
import { testApp } from './testing.ts';

let app: App;
beforeAll(async () => {
  app = await testApp();
});
afterAll(() => app.close());

const plan = parse(readFileSync(new URL('../../db/demo/plans/bold.yaml', import.meta.url), 'utf8')) as Record<string, unknown>;
const post = (payload: unknown, url = '/v1/plans') =>
  app.inject({ method: 'POST', url, headers: { 'content-type': 'application/json' }, payload: JSON.stringify(payload) });
const faults = (response: { json(): { faults: { pointer: string; code: string }[] } }) =>
  response.json().faults.map(({ pointer, code }) => [pointer, code]);

describe('POST /v1/plans', () => {
  it('answers the demo plan as the contract says, the same bytes each time', async () => {
    const [first, second] = [await post(plan), await post(plan)];
    expect(first.statusCode).toBe(200);
    expect(second.body).toBe(first.body);
    const { check, estimate, done, hand_over } = first.json();
    expect(check.work.steps.length).toBeGreaterThan(20);
    expect(estimate.wording).toContain('not a quotation');
    expect(done).toEqual([]);
    expect(hand_over.sections.length).toBeGreaterThan(3);
  });

  it('refuses what is wrong by its name', async () => {
    const money = await post({ ...demoBuild('modest'), estimate: { currency: 'eur', labour: { default: 72 } } });
    expect([money.statusCode, faults(money).map(([pointer]) => pointer)]).toEqual([
      400,
      ['/estimate/currency', '/estimate/labour/default'],
    ]);
    const wrong = { estimate: { currency: 'EUR', labour: { default: 72 } }, state: { done: ['fit-body-lift'] } };
    const helped = (await post({ ...demoBuild('modest'), ...wrong })).json().faults as { readonly help: string }[];
    expect(helped.map(({ help }) => help)).toEqual([
      'write money as a text, such as "72.00": numbers of JSON are not exact',
      'an object is expected, such as { "step": "fit-body-lift" }',
    ]);
    const skill = await post({ ...demoBuild('modest'), estimate: { currency: 'EUR', labour: { wellding: '80.00' } } });
    expect([skill.statusCode, faults(skill)]).toEqual([422, [['/estimate/labour/wellding', 'SKILL_UNKNOWN']]]);
    const group = await post({ ...demoBuild('modest'), stages: { groups: [{ name: 'now', parts: ['moon'] }] } });
    expect([group.statusCode, faults(group)]).toEqual([422, [['/stages/groups/0/parts/0', 'PART_NOT_PLANNED']]]);
  });

  it.each([
    ['csv', 'text/csv', 'section,number,id'],
    ['markdown', 'text/markdown', '# Plan'],
    ['xlsx', 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet', 'PK'],
  ])('gives the same as %s', async (form, type, begins) => {
    const response = await post(demoBuild('modest'), `/v1/plans/sheet?form=${form}`);
    expect([response.statusCode, String(response.headers['content-type']).startsWith(type)]).toEqual([200, true]);
    expect(response.body.startsWith(begins)).toBe(true);
  });
});

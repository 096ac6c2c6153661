/** The form of saved builds, their revisions, measurements and answers. */
import { z } from 'zod';
import { Answer, Verdict } from './answer.ts';
import { Asking, Build, name, text, toolError, Value, version } from './request.ts';

const saying = {
  by: name.optional().describe('The person who writes.'),
  note: text.optional().describe('Why, in a line.'),
};
const revisionNumber = version;

export const BuildWrite = z.strictObject({ name, build: Build, ...saying }).meta({ id: 'BuildWrite' });
export const Restore = z
  .strictObject({ revision: revisionNumber.describe('The revision to bring back; it becomes the next one.'), ...saying })
  .meta({ id: 'Restore' });

const measurement = {
  quantity: name.describe('A quantity of the dictionary.'),
  of: name.optional().describe('A place or the id of a part; left out for the vehicle.'),
  value: Value,
  date: z.iso.date('a date is written as 2026-10-03').describe('The day it was taken.'),
  tool: name.describe('What it was taken with.'),
  tool_error: toolError,
  suspension: name.optional().describe('Where the suspension stood: at ride height, full bump, full droop.'),
  steering: name.optional().describe('Where the steering stood.'),
};
export const MeasurementWrite = z.strictObject({ ...measurement, ...saying }).meta({ id: 'MeasurementWrite' });
export const Measurement = z
  .object({
    id: z.string(),
    ...measurement,
    date: z.string(),
    by: z.string().optional(),
    note: z.string().optional(),
    recorded: z.object({ at: z.iso.datetime(), key: z.string().describe('Name of the key it came with.') }),
  })
  .meta({ id: 'Measurement' });

const What = z.enum(['created', 'changed', 'restored', 'measured', 'unmeasured']).describe('What made the revision; more may come.');
const written = {
  at: z.iso.datetime(),
  key: z.string().describe('Name of the key it came with.'),
  by: z.string().optional(),
  note: z.string().optional(),
};

export const BuildView = z
  .object({
    id: z.string(),
    revision: revisionNumber,
    name: z.string(),
    build: Build,
    measurements: z.array(Measurement).describe('Those that hold; of two of the same thing the later counts.'),
    what: What,
    restored_from: revisionNumber.optional(),
    ...written,
  })
  .meta({ id: 'SavedBuild', description: 'A build at one of its revisions.' });

export const BuildSummaryView = z
  .object({ id: z.string(), revision: revisionNumber, name: z.string(), vehicle: z.string().optional(), created_at: z.iso.datetime() })
  .meta({ id: 'BuildSummary' });

export const Change = z
  .object({
    pointer: z.string().describe('RFC 6901, from the build.'),
    before: z.unknown().optional().describe('Left out for what is new.'),
    after: z.unknown().optional().describe('Left out for what is gone.'),
  })
  .meta({ id: 'Change' });

const Recorded = Measurement.extend({ was: Value.optional().describe('What held of the same thing before.') }).meta({
  id: 'RecordedMeasurement',
});

export const RevisionView = z
  .object({
    revision: revisionNumber,
    what: What,
    restored_from: revisionNumber.optional(),
    ...written,
    changes: z.array(Change).describe('Of the build itself.'),
    measurements: z.object({ added: z.array(Recorded), removed: z.array(Measurement) }),
  })
  .meta({ id: 'Revision' });

export const CheckAsking = Asking.extend({ revision: revisionNumber.optional().describe('Left out for the newest.') }).meta({
  id: 'CheckAsking',
});

const saved = {
  id: z.string(),
  build: z.string(),
  revision: revisionNumber,
  verdict: Verdict,
  versions: Answer.shape.versions,
  entries: z
    .array(z.object({ noun: z.enum(['vehicle', 'part']), id: z.string(), version: z.int() }))
    .describe('What of the catalogue it rests on.'),
  at: z.iso.datetime(),
  key: z.string(),
};
export const SavedCheckSummary = z.object(saved).meta({ id: 'SavedCheckSummary' });
export const SavedCheck = z
  .object({ ...saved, answer: Answer })
  .meta({ id: 'SavedCheck', description: 'An answer kept with what it rests on.' });

const Side = z.strictObject({ build: name, revision: revisionNumber.optional() });
export const ComparisonRequest = z
  .strictObject({ before: Side, after: Side, units: Asking.shape.units })
  .meta({ id: 'ComparisonRequest', description: 'Two builds, or two revisions of one.' });

const Turned = z
  .object({
    rule: z.string(),
    title: z.string(),
    hazard: z.string(),
    before: Verdict.nullable().describe('null where the rule did not apply.'),
    after: Verdict.nullable(),
    margin_before: Answer.shape.findings.element.shape.margin,
    margin_after: Answer.shape.findings.element.shape.margin,
    says: z.string(),
    ids: z.object({ before: z.string().nullable(), after: z.string().nullable() }),
  })
  .meta({ id: 'TurnedFinding' });
const Compared = z.object({ build: z.string(), revision: z.int(), verdict: Verdict, hours: Answer.shape.work.shape.hours });
export const Comparison = z
  .object({
    before: Compared,
    after: Compared,
    fixed: z.array(Turned).describe('Was not clear, and now is, or no longer applies.'),
    broken: z.array(Turned).describe('Was clear or did not apply, and now is not clear.'),
    better: z.array(Turned).describe('Not clear before or after, with a better verdict or margin.'),
    worse: z.array(Turned),
    no_longer_known: z.array(Turned).describe('Was known, and now a measurement is missing.'),
    unchanged: z.int(),
    changes: z.array(Change).describe('Of the build itself.'),
    measurements: z.object({ added: z.array(Measurement), removed: z.array(Measurement) }),
  })
  .meta({ id: 'Comparison' });

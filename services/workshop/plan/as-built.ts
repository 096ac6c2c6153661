/** What was done, as it was read: each safety step is closed by a name, a reading against what was predicted, and a check. */
import { slotOf } from '../../engine/bind.ts';
import type { Evaluation } from '../../engine/evaluate.ts';
import { resolve } from '../../engine/layout.ts';
import type { Leaf } from '../../engine/tree.ts';
import type { Candidate } from '../../engine/values.ts';
import { NONE } from '../../units/index.ts';
import { saidKey } from '../../vehicle/assembly.ts';
import { type Faults, listed, suggestFrom } from '../../vehicle/faults.ts';
import { readValue } from '../../vehicle/read-value.ts';
import { signatureOf, type VehicleWorld } from '../../vehicle/world.ts';
import type { Amount } from '../answer.ts';
import type { AskedWork } from '../asked-work.ts';
import { evaluationId } from '../evaluation-id.ts';
import type { JobStep } from '../job.ts';
import { type System, show } from '../show.ts';
import { stepId } from '../step-id.ts';
import { toleranceOf } from '../values-out.ts';
import type { AsBuiltInput, DoneInput } from './request.ts';

export interface ReadingAsBuilt {
  readonly quantity: string;
  readonly title: string;
  readonly read: Amount;
  /** null where nothing was predicted. */
  readonly predicted: Amount | null;
  readonly agrees: boolean | null;
}

export interface AsBuilt {
  readonly step: string;
  readonly by: string;
  readonly date: string;
  readonly passed: boolean;
  readonly note: string | null;
  readonly photos: readonly string[];
  readonly readings: readonly ReadingAsBuilt[];
  /**
   * A safety step is closed when it passed, was read where it must be, as predicted or with a note that says why not, and nothing
   * that asked for it is in conflict now.
   */
  readonly closed: boolean;
  readonly open: readonly string[];
}

export interface DoneStep {
  readonly asked: AskedWork;
  readonly step: JobStep;
  readonly input: DoneInput | AsBuiltInput;
}

/** Steps of the job by id, with the amounts they were done with. */
export function resolveDone(given: readonly DoneInput[], steps: Iterable<JobStep>, world: VehicleWorld, faults: Faults): DoneStep[] {
  const byId = new Map([...steps].map((step) => [stepId(step.asked, world), step]));
  return given.flatMap((input, i): DoneStep[] => {
    const at = faults.in(i);
    const step = byId.get(input.step);
    if (!step) {
      at.in('step').add('STEP_UNKNOWN', `\`${input.step}\` is no step of this job`, suggestFrom(input.step, byId.keys()));
      return [];
    }
    return [{ asked: withAmounts(step.asked, input.amounts ?? {}, at.in('amounts')), step, input }];
  });
}

function withAmounts(asked: AskedWork, given: NonNullable<DoneInput['amounts']>, faults: Faults): AskedWork {
  const amounts = new Map(asked.amounts);
  for (const [name, value] of Object.entries(given)) {
    const amount = amounts.get(name);
    if (!amount) {
      faults
        .in(name)
        .add(
          'AMOUNT_UNKNOWN',
          `\`${asked.work.id}\` takes no amount \`${name}\``,
          amounts.size > 0 ? `it takes ${listed(amounts.keys())}` : 'leave it out',
        );
      continue;
    }
    const { parameter } = amount;
    const signature = {
      name,
      title: name,
      meaning: '',
      type: parameter.type,
      ...(parameter.unit && { unit: parameter.unit }),
      span: asked.work.span,
    };
    const read = readValue(value, signature, faults.in(name));
    if (typeof read?.value === 'number') amounts.set(name, { ...amount, value: read.value, nominal: read.value });
  }
  return { ...asked, amounts };
}

interface Read {
  readonly leaf: Leaf;
  readonly key: string;
  readonly slot: number;
  readonly value: number;
  readonly plusMinus: number;
}

/** The readings of one step, against the values its work says are read. */
export function readingsOf({ asked, input }: DoneStep, world: VehicleWorld, faults: Faults): Read[] {
  const leaves = asked.work.verify?.reads ?? [];
  const given = 'readings' in input ? (input.readings ?? []) : [];
  return given.flatMap(({ quantity, value }, i): Read[] => {
    const at = faults.in('readings', i);
    const leaf = leaves.find(({ name }) => isNamed(name, quantity));
    const signature = leaf && signatureOf(world.library, leaf.name);
    if (!leaf || !signature) {
      at.in('quantity').add(
        'QUANTITY_UNKNOWN',
        `\`${quantity}\` is not read for \`${input.step}\``,
        whereRead(asked.work, quantity, world) ??
          (leaves.length > 0 ? `its readings are ${listed(leaves.map(({ name }) => name))}` : 'write it into `note`'),
      );
      return [];
    }
    const read = readValue(value, signature, at.in('value'));
    if (typeof read?.value !== 'number') return [];
    const plusMinus = read.stated ? read.plusMinus : (signature.measure?.accuracy ?? read.plusMinus);
    const subjects = leaf.subjects.map((ref) => resolve(ref, asked.subjects, world));
    return [{ leaf, key: saidKey(leaf.name, subjects), slot: slotOf(leaf, asked.subjects, world), value: read.value, plusMinus }];
  });
}

const isNamed = (name: string, quantity: string): boolean => name === quantity || name.endsWith(`.${quantity}`);

/** A sign-off that the work brings, where the reading is taken there: of a height, once it stands on its wheels. */
function whereRead({ then }: AskedWork['work'], quantity: string, { library }: VehicleWorld): string | undefined {
  const reader = then.find(({ work }) => library.works.get(work)?.verify?.reads.some(({ name }) => isNamed(name, quantity)));
  return reader && `it is read in the step of \`${reader.work}\` that comes later`;
}

export const candidateOf = ({ value, plusMinus }: Read, { by, date }: AsBuiltInput): Candidate => ({
  value,
  plusMinus,
  rank: 'work',
  note: 'read as built',
  by,
  date,
});

export function asBuiltOf(
  done: DoneStep,
  reads: readonly Read[],
  predicted: VehicleWorld,
  { now, world }: { readonly now: readonly Evaluation[]; readonly world: VehicleWorld },
  system: System,
): AsBuilt | undefined {
  const { input, step, asked } = done;
  if (!('passed' in input)) return undefined;
  const readings = reads.map((read) => readingAsBuilt(read, predicted, system));
  const missing = (asked.work.verify?.reads ?? [])
    .filter((leaf) => !reads.some((read) => read.leaf === leaf))
    .map(({ name }) => `\`${name}\` was not read`);
  const failing = now
    .filter((evaluation) => evaluation.verdict === 'conflict' && step.findings.has(evaluationId(evaluation, world)))
    .map(({ rule }) => `still in conflict: ${rule.title}`);
  const otherwise = readings
    .filter(({ agrees }) => agrees === false && input.note === undefined)
    .map(({ quantity }) => `\`${quantity}\` was read otherwise than predicted: find out why, and say so in \`note\``);
  const open = [...(input.passed ? [] : ['it did not pass']), ...missing, ...failing, ...otherwise];
  return {
    step: input.step,
    by: input.by,
    date: input.date,
    passed: input.passed,
    note: input.note ?? null,
    photos: input.photos ?? [],
    readings,
    closed: open.length === 0,
    open,
  };
}

function readingAsBuilt({ leaf, slot, value, plusMinus }: Read, world: VehicleWorld, system: System): ReadingAsBuilt {
  const signature = signatureOf(world.library, leaf.name);
  const shown = show(signature?.unit, leaf.type.is === 'number' ? leaf.type.dimension : NONE, system);
  const expected = world.values.read(slot);
  const band = toleranceOf(slot, world);
  const within = Number.isFinite(band) ? band : 0;
  const known = !Number.isNaN(expected);
  return {
    quantity: leaf.name,
    title: signature?.title ?? leaf.text,
    read: shown.amount(value, plusMinus),
    predicted: known ? shown.amount(expected, within) : null,
    agrees: known ? Math.abs(value - expected) <= plusMinus + within + 1e-12 : null,
  };
}

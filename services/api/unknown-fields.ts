/** Help with a field that a form does not have: the one that was meant, where it belongs, or those there are. */
import type { z } from 'zod';
import { nearest } from '../engine/diagnostics.ts';
import { Asking, CheckRequest } from './schemas/request.ts';

type Inner = z.ZodType | undefined;
interface Def {
  readonly shape?: Readonly<Record<string, z.ZodType>>;
  readonly options?: readonly z.ZodType[];
  readonly discriminator?: string;
  readonly element?: Inner;
  readonly innerType?: Inner;
  readonly valueType?: Inner;
}
const defOf = (schema: z.ZodType): Def => schema._zod.def as Def;

/** Names of the fields that an object at the path of the input may have. */
export function fieldsAt(schema: z.ZodType, path: readonly PropertyKey[], input: unknown): string[] {
  const { shape, options, discriminator, element, innerType, valueType } = defOf(schema);
  if (innerType) return fieldsAt(innerType, path, input);
  if (options) return optionsFor(options, discriminator, input).flatMap((option) => fieldsAt(option, path, input));
  const [step, ...rest] = path;
  if (step === undefined) return Object.keys(shape ?? {});
  const below = shape?.[String(step)] ?? element ?? valueType;
  return below ? fieldsAt(below, rest, (input as Record<PropertyKey, unknown> | undefined)?.[step]) : [];
}

/** Of forms told apart by a field the one that the input is of. */
function optionsFor(options: readonly z.ZodType[], discriminator: string | undefined, input: unknown): readonly z.ZodType[] {
  if (discriminator === undefined) return options;
  const said = (input as Record<string, unknown> | undefined)?.[discriminator];
  return options.filter((option) => defOf(option).shape?.[discriminator]?.safeParse(said).success);
}

/** Names of the fields of a schema and of all below it, each with the name of what it stands in. */
function fieldNames(schema: z.ZodType, at = '', found = new Map<string, string>()): Map<string, string> {
  const { shape = {}, options = [], element, innerType, valueType } = defOf(schema);
  for (const name of Object.keys(shape)) if (!found.has(name)) found.set(name, at);
  for (const [name, field] of Object.entries(shape)) fieldNames(field, name, found);
  for (const below of [...options, element, innerType, valueType]) if (below) fieldNames(below, at, found);
  return found;
}

/** Fields of what is asked with a check, beside the build. */
const OF_A_CHECK: ReadonlySet<string> = new Set(Object.keys(Asking.shape));
/** Fields of the builds' forms, by where they stand: a field that is unknown here may belong elsewhere. */
const ELSEWHERE: ReadonlyMap<string, string> = new Map(
  [...fieldNames(CheckRequest)].map(([name, at]) => [name, at === '' ? 'beside `vehicle`' : `in \`${at}\``]),
);

export function unknownHelp(key: string, path: readonly PropertyKey[], here: readonly string[]): string {
  const near = nearest(
    key,
    here.filter((name) => name !== key),
  );
  if (near !== undefined) return `did you mean \`${near}\`?`;
  if (OF_A_CHECK.has(key) && path[0] === 'build') return 'a build is saved without it: send it with each check of the build';
  const elsewhere = ELSEWHERE.get(key);
  if (elsewhere !== undefined && path.length > 0) return `it stands ${elsewhere}, not here`;
  return here.length === 0 ? 'leave it out' : `the fields here are ${here.map((name) => `\`${name}\``).join(', ')}`;
}

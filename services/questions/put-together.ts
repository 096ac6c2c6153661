/** Puts what was read together into the request of a check. */
import type { Library } from '../engine/index.ts';
import { type CheckRequest, isKind, type LoadItem, type PartInput, type VehicleReading } from '../vehicle/index.ts';
import { MANY } from './put-part.ts';
import type { Vehicle } from './question-vehicle.ts';
import type { Asked } from './read.ts';
import type { Needed, Notes } from './reading.ts';
import { lowerFirst } from './tidy.ts';
import type { Token } from './tokens.ts';

const MOST_PARTS = 60;

/** Pieces put together: the parts in the order they were said. */
export function buildOf(
  notes: Notes,
  vehicle: Vehicle,
  asked: Asked,
  tokens: readonly Token[],
  library: Library,
): { readonly build?: CheckRequest } {
  const pieces = [...notes.pieces].sort((a, b) => a.start - b.start);
  const parts = oncePerPlace(
    pieces.flatMap(({ puts }) => puts?.parts ?? []),
    notes,
  ).slice(0, MOST_PARTS);
  const items: LoadItem[] = pieces.flatMap(({ puts }) => puts?.items ?? []);
  const measured: VehicleReading[] = pieces.flatMap(({ puts }) => puts?.measured ?? []);
  const fitted: PartInput[] = pieces.flatMap(({ puts }) => puts?.fitted ?? []);
  const occupants = pieces.find(({ puts }) => puts?.occupants !== undefined)?.puts?.occupants;
  const topSpeed = pieces.find(({ puts }) => puts?.topSpeed !== undefined)?.puts?.topSpeed;
  if (parts.length === 0 && items.length === 0 && occupants === undefined && measured.length === 0) return {};
  if (occupants === undefined) notes.assume('nobody was said to ride in it: the driver alone was counted', true, 'driver alone');
  const jurisdictions = [...new Set([...(asked.jurisdictions ?? []), ...pieces.flatMap(({ puts }) => puts?.jurisdictions ?? [])])];
  if (notes.asksLaw && jurisdictions.length === 0)
    notes.assume('law was not looked at: no place was named whose text is there', true, 'law not looked at');
  const electric = parts.filter((part) => isElectric(part, notes, library));
  const isStored = (part: PartInput): boolean => isKind(library, kindOf(part, notes), 'second_battery');
  if (electric.length > 0 && electric.every(isStored))
    notes.assume(
      'of a second battery the alternator and the size of its cables are not checked',
      true,
      'alternator and cables not checked',
    );
  else if (electric.length > 0)
    notes.assume('of what is electrical the mass is checked, not battery, alternator and wiring', true, ELECTRICS);
  const use = { ...(topSpeed !== undefined && { top_speed: topSpeed }), ...(jurisdictions.length > 0 && { jurisdictions }) };
  return {
    build: {
      vehicle: withRead(vehicle.input, measured, fitted, notes),
      ...(parts.length > 0 && { parts: withIds(parts) }),
      load: { occupants: occupants ?? 1, ...(items.length > 0 && { items: named(items) }) },
      ...(Object.keys(use).length > 0 && { use }),
      units: asked.units ?? unitsOf(tokens, notes),
    },
  };
}

export const ELECTRICS = 'electrics not checked';
const ELECTRIC = ['electric_accessory', 'second_battery'] as const;

const kindOf = (part: PartInput, notes: Notes): string => (part.from === 'inline' ? part.kind : (notes.kinds.get(part.part) ?? ''));

/** A winch is asked for its pull; what else draws or stores is asked for what it does to the supply. */
const isElectric = (part: PartInput, notes: Notes, library: Library): boolean => {
  const kind = kindOf(part, notes);
  return kind !== 'winch' && library.kinds.has(kind) && ELECTRIC.some((of) => isKind(library, kind, of));
};

/** What was read of the truck itself, beside what is known of it. */
function withRead(
  vehicle: CheckRequest['vehicle'],
  measured: readonly VehicleReading[],
  fitted: readonly PartInput[],
  notes: Notes,
): CheckRequest['vehicle'] {
  // What the question says goes before what was read of the same thing earlier.
  const earlier = (vehicle.measured ?? []).filter(
    (known) => !measured.some(({ quantity, of }) => quantity === known.quantity && of === known.of),
  );
  const more = measured.length > 0 ? { measured: [...earlier, ...measured] } : {};
  if (fitted.length === 0 || vehicle.from === 'catalogue') {
    if (fitted.length > 0)
      notes.assume('the tyres on it now are those of the catalogue, whatever the question says', true, 'the catalogue’s own tyres');
    return { ...vehicle, ...more };
  }
  return { ...vehicle, fitted: [...(vehicle.fitted ?? []), ...fitted], ...more };
}

/** One part of a kind at a place: what was said first stands, what came later makes it more exact. */
function oncePerPlace(parts: readonly PartInput[], notes: Notes): PartInput[] {
  const kept = new Map<string, PartInput>();
  const inCatalogue = new Set(parts.flatMap((part) => (part.from === 'catalogue' ? [notes.kinds.get(part.part) ?? ''] : [])));
  for (const part of parts) {
    if (part.from === 'inline' && notes.without.has(`${part.kind} ${part.at ?? ''}`) && notes.weak.has(part)) continue;
    if (part.from === 'inline' && inCatalogue.has(part.kind) && !MANY.has(part.kind)) {
      notes.assume(`${part.name ?? part.kind} was left out: the part of the catalogue that is named stands for it`, true);
      continue;
    }
    const key = part.from === 'inline' ? `${part.kind} ${part.at ?? ''}${MANY.has(part.kind) ? ` ${part.name}` : ''}` : part.part;
    if (part.from !== 'inline') {
      kept.set(key, part);
      continue;
    }
    const known = kept.get(key);
    if (known?.from === 'inline' && notes.weak.has(part) && !notes.weak.has(known)) continue;
    if (known?.from !== 'inline' || (notes.weak.has(known) && !notes.weak.has(part))) kept.set(key, part);
    else if (clashes(known.attributes ?? {}, part.attributes ?? {})) {
      const of = notes.pieces.find(({ puts }) => puts?.parts?.includes(part));
      if (of)
        notes.missed.push({
          ...of,
          why: `another than the ${lowerFirst(known.name ?? known.kind)} that was said first; one is answered at a time`,
        });
    } else
      kept.set(key, {
        ...known,
        name:
          Object.keys(known.attributes ?? {}).length >= Object.keys(part.attributes ?? {}).length ? (known.name ?? '') : (part.name ?? ''),
        attributes: { ...part.attributes, ...known.attributes },
      });
  }
  for (const need of notes.needs) tellUnsized(need, [...kept.values()], notes);
  return [...kept.values()];
}

function tellUnsized({ kind, at, attribute, says }: Needed, parts: readonly PartInput[], notes: Notes): void {
  const part = parts.find((one) => one.from === 'inline' && one.kind === kind && one.at === at);
  if (part?.from === 'inline' && !(attribute in (part.attributes ?? {})))
    notes.assume(`how much of ${says} was not said: it is not known`, true, `${says}: no amount said`);
}

const clashes = (a: Readonly<Record<string, unknown>>, b: Readonly<Record<string, unknown>>): boolean =>
  Object.entries(a).some(([name, value]) => name in b && b[name] !== value && name !== 'droop_added');

const withIds = (parts: readonly PartInput[]): PartInput[] => {
  const seen = new Map<string, number>();
  return parts.map((part) => {
    const kind = part.from === 'inline' ? part.kind.replaceAll('_', '-') : part.part;
    const n = (seen.get(kind) ?? 0) + 1;
    seen.set(kind, n);
    return { id: `asked-${kind}${n > 1 ? `-${n}` : ''}`, ...part };
  });
};

/** Loads of one name are told apart. */
function named(items: readonly LoadItem[]): LoadItem[] {
  const seen = new Map<string, number>();
  return items.map((item) => {
    const n = (seen.get(item.name) ?? 0) + 1;
    seen.set(item.name, n);
    return n > 1 ? { ...item, name: `${item.name} ${n}` } : item;
  });
}

/** As the question was written: by most of its units, sizes of tyres and wheels left out; a bare number that was taken in pounds is one. */
export function unitsOf(tokens: readonly Token[], { pieces }: Notes): 'metric' | 'us' {
  const pulls = pieces
    .flatMap(({ puts }) => puts?.parts ?? [])
    .map((part) => (part.from === 'inline' ? part.attributes?.line_pull : undefined));
  let us = pulls.filter((pull) => String(pull).endsWith(' lbf')).length;
  for (const token of tokens) {
    const units = token.is === 'amount' ? [token.amount.unit] : token.is === 'pair' ? [token.front.unit] : [];
    for (const unit of units) us += unit?.system === 'us' ? 1 : unit?.system === 'metric' ? -1 : 0;
  }
  return us > 0 ? 'us' : 'metric';
}
